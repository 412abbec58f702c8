//! The nodes of a proof's tree.

use serde_json::Value;

/// The leaf of a node, whatever its sort.
pub fn leaf_of(place: &mut Value) -> Option<&mut Value> {
    for sort in ["leaf", "searched"] {
        if place.get(sort).is_some() {
            return place.get_mut(sort);
        }
    }
    let sort = if place.get("paired").is_some() {
        "paired"
    } else {
        "closed"
    };
    place.get_mut(sort)?.get_mut("leaf")
}
