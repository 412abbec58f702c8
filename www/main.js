// Starts the page.

import { Engine } from "./engine.js";
import { workOffline } from "./offline.js";
import { Page } from "./page.js";

new Page(new Engine()).start();
workOffline();
