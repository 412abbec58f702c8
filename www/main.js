// Loads the rest of the page.

import { Arrivals } from "./arrivals.js";
import { Desk } from "./desk.js";
import { Engine } from "./engine.js";
import { letGo, page } from "./first.js";
import { workOffline } from "./offline.js";
import { Units } from "./units.js";
import { Worksite } from "./worksite.js";
import { otherViews } from "./view/all.js";
import { askDialog } from "./view/ask.js";
import { notices } from "./view/notices.js";

const engine = new Engine();
page.begin({ engine, desk: new Desk(page, engine), worksite: new Worksite(page), units: new Units(page), arrivals: new Arrivals(page), ask: askDialog(), tell: notices(), views: otherViews });
letGo();
workOffline();
