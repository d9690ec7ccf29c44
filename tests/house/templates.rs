//! Whether every template is used, by the room it is named after, and only shows what it is given.

use crate::files::Source;

/// Templates that no room renders and no other template draws on, and those rendered by another room than their folder's.
pub fn misplaced(templates: &[(String, String)], sources: &[Source]) -> Vec<String> {
    let mut faults = Vec::new();
    for (path, _) in templates {
        let name = path.trim_start_matches("templates/");
        let quoted = format!("\"{name}\"");
        let renderers: Vec<&Source> = sources.iter().filter(|source| source.text.contains(&quoted)).collect();
        if renderers.is_empty() && !templates.iter().any(|(_, text)| draws_on(text, &quoted)) {
            faults.push(format!("{path}: no room renders it and no template draws on it"));
        }
        let folder = name.split('/').next().unwrap_or_default();
        for source in renderers {
            if folder != "shared" && folder != source.room {
                faults.push(format!("{path}: rendered by {}, but it stands in {folder}/", source.path));
            }
        }
    }
    faults
}

/// Whether a template extends, includes or imports this one.
fn draws_on(text: &str, quoted: &str) -> bool {
    tags(text).any(|tag| {
        tag.contains(quoted)
            && ["extends", "include", "import"]
                .iter()
                .any(|word| tag.trim_start_matches(['-', '+', '~', ' ']).starts_with(word))
    })
}

/// Tags that multiply or divide.
pub fn arithmetic(text: &str) -> Vec<String> {
    tags(text).filter(|tag| tag.contains(" * ") || tag.contains(" / ")).map(|tag| tag.trim().to_string()).collect()
}

/// The inside of every `{{ … }}` and `{% … %}`.
fn tags(text: &str) -> impl Iterator<Item = &str> {
    [("{{", "}}"), ("{%", "%}")].into_iter().flat_map(move |(open, close)| {
        text.split(open).skip(1).filter_map(move |rest| rest.split_once(close)).map(|(tag, _)| tag)
    })
}

#[test]
fn arithmetic_in_a_tag_is_found() {
    assert_eq!(arithmetic("<p>{{ a * 25.4 }} {{ b }} 1 / 2 {% if a / b > 1 %}"), ["a * 25.4", "if a / b > 1"]);
    assert_eq!(arithmetic("{% include \"shared/x.html\" %}{{ loop.index0 }} * {{ x }}"), Vec::<String>::new());
}

#[test]
fn an_unused_or_misplaced_template_is_found() {
    let template = |path: &str, text: &str| (path.to_string(), text.to_string());
    let templates = [
        template("templates/bench/step.html", "{%- extends \"shared/frame.html\" -%}"),
        template("templates/shared/frame.html", ""),
        template("templates/shared/lost.html", "see \"shared/lost.html\""),
        template("templates/office/floor.html", ""),
    ];
    let source = Source {
        path: "src/bench/step.rs".into(),
        room: "bench".into(),
        module: Vec::new(),
        text: "#[template(path = \"bench/step.html\")] #[template(path = \"office/floor.html\")]".into(),
    };
    assert_eq!(
        misplaced(&templates, &[source]),
        [
            "templates/shared/lost.html: no room renders it and no template draws on it",
            "templates/office/floor.html: rendered by src/bench/step.rs, but it stands in office/",
        ]
    );
}
