//! axe-core's look at a page, with its two strict rules on that are off by default: size of targets and 7:1 contrast.

use std::fs;
use std::path::Path;

use fantoccini::Client;
use serde_json::{Value, json};

const AXE: &str = "target/axe/node_modules/axe-core/axe.min.js";

/// Every violation in words: the rule, what it asks for, and where it is broken.
pub async fn violations(client: &Client) -> Vec<String> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(AXE);
    let axe = fs::read_to_string(file).unwrap_or_else(|error| panic!("{AXE}: {error} (`tests/run` installs it)"));
    client.execute(&axe, vec![]).await.expect("axe-core loads");
    let options = json!({
        "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
        "rules": {"target-size": {"enabled": true}, "color-contrast-enhanced": {"enabled": true}},
        "resultTypes": ["violations"],
    });
    let script = "const [options, done] = arguments; axe.run(document, options).then((result) => done(result.violations), (error) => done(String(error)))";
    let found = client.execute_async(script, vec![options]).await.expect("axe-core runs");
    let violations = found.as_array().unwrap_or_else(|| panic!("axe-core: {found}"));
    violations.iter().flat_map(in_words).collect()
}

fn in_words(violation: &Value) -> Vec<String> {
    let rule = format!("{}: {}", text(&violation["id"]), text(&violation["help"]));
    let nodes = violation["nodes"].as_array().cloned().unwrap_or_default();
    nodes
        .iter()
        .map(|node| {
            format!(
                "{rule}\n    {}\n    {}",
                text(&node["html"]),
                text(&node["failureSummary"]).replace('\n', "\n    ")
            )
        })
        .collect()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}
