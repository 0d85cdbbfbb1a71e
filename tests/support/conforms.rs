//! Whether a value is what a JSON Schema says: the keywords that the project's schemas use; any other keyword is a fault.

use serde_json::Value;

/// Every way in which a value is not what the schema says; empty when it conforms.
pub(crate) fn faults(schema: &Value, value: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    look(schema, schema, value, "$", &mut faults);
    faults
}

fn look(root: &Value, schema: &Value, value: &Value, at: &str, faults: &mut Vec<String>) {
    let rules = schema.as_object().expect("a schema is an object");
    // In draft-07 a reference stands alone.
    assert!(
        !rules.contains_key("$ref") || rules.len() == 1,
        "{schema}: what stands beside $ref is not read"
    );
    for (keyword, rule) in rules {
        match keyword.as_str() {
            "$schema" | "$comment" | "$defs" | "title" | "description" | "definitions"
            | "examples" => {}
            "$ref" => {
                let target = rule.as_str().and_then(|name| name.strip_prefix('#'));
                let target = target.and_then(|pointer| root.pointer(pointer));
                look(root, target.expect("its target"), value, at, faults);
            }
            "allOf" => {
                for one in list(rule) {
                    look(root, one, value, at, faults);
                }
            }
            "anyOf" => {
                let fits = |one| {
                    let mut inner = Vec::new();
                    look(root, one, value, at, &mut inner);
                    inner.is_empty()
                };
                if !list(rule).iter().any(fits) {
                    faults.push(format!("{at}: {value} is nothing of {rule}"));
                }
            }
            "type" => {
                let names = rule
                    .as_array()
                    .map_or(std::slice::from_ref(rule), |names| names);
                if !names
                    .iter()
                    .any(|name| is(value, name.as_str().expect("a type")))
                {
                    faults.push(format!("{at}: {value} is no {rule}"));
                }
            }
            "enum" => {
                if !list(rule).contains(value) {
                    faults.push(format!("{at}: {value} is not in {rule}"));
                }
            }
            "minimum" | "maximum" => {
                let (limit, number) = (rule.as_f64().expect("a number"), value.as_f64());
                let lower = keyword == "minimum";
                if number.is_some_and(|n| if lower { n < limit } else { n > limit }) {
                    faults.push(format!("{at}: {value}, {keyword} {rule}"));
                }
            }
            "minLength" => {
                let least = usize::try_from(rule.as_u64().expect("a number")).expect("small");
                if value
                    .as_str()
                    .is_some_and(|text| text.chars().count() < least)
                {
                    faults.push(format!("{at}: {value} is too short"));
                }
            }
            "pattern" => {
                if value
                    .as_str()
                    .is_some_and(|text| !fits(text, rule.as_str().expect("text")))
                {
                    faults.push(format!("{at}: {value} does not match {rule}"));
                }
            }
            "items" => {
                for (place, item) in value.as_array().into_iter().flatten().enumerate() {
                    look(root, rule, item, &format!("{at}[{place}]"), faults);
                }
            }
            "required" => {
                for name in list(rule) {
                    let name = name.as_str().expect("a name");
                    if value.is_object() && value.get(name).is_none() {
                        faults.push(format!("{at}: {name} is missing"));
                    }
                }
            }
            "properties" => {
                for (name, inner) in value.as_object().into_iter().flatten() {
                    if let Some(rule) = rule.get(name) {
                        look(root, rule, inner, &format!("{at}.{name}"), faults);
                    }
                }
            }
            "patternProperties" => {
                for (name, inner) in value.as_object().into_iter().flatten() {
                    for (_, rule) in rule
                        .as_object()
                        .expect("patterns")
                        .iter()
                        .filter(|(p, _)| fits(name, p))
                    {
                        look(root, rule, inner, &format!("{at}.{name}"), faults);
                    }
                }
            }
            "additionalProperties" => {
                let named = schema.get("properties");
                let patterns = schema.get("patternProperties").and_then(Value::as_object);
                for (name, inner) in value.as_object().into_iter().flatten() {
                    if named.is_some_and(|named| named.get(name).is_some())
                        || patterns.is_some_and(|all| all.keys().any(|p| fits(name, p)))
                    {
                        continue;
                    }
                    if rule == &Value::Bool(false) {
                        faults.push(format!("{at}: {name} is not known"));
                    } else {
                        look(root, rule, inner, &format!("{at}.{name}"), faults);
                    }
                }
            }
            other => panic!("{at}: this check does not know the keyword {other}"),
        }
    }
}

fn list(rule: &Value) -> &Vec<Value> {
    rule.as_array().expect("a list")
}

fn is(value: &Value, name: &str) -> bool {
    match name {
        "array" => value.is_array(),
        "object" => value.is_object(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        "integer" => value.is_u64() || value.is_i64(),
        other => panic!("unknown type {other}"),
    }
}

/// Whether a text fits a pattern of the few forms in use: `^`, then plain letters and sets in brackets, a set once or with `*` or `+`, then `$`.
fn fits(text: &str, pattern: &str) -> bool {
    let inner = pattern
        .strip_prefix('^')
        .and_then(|rest| rest.strip_suffix('$'));
    sets(
        text,
        inner.unwrap_or_else(|| panic!("{pattern} is not anchored")),
    )
}

fn sets(text: &str, pattern: &str) -> bool {
    if pattern.is_empty() {
        return text.is_empty();
    }
    if let Some(plain) = pattern
        .chars()
        .next()
        .filter(|c| c.is_ascii_lowercase() || *c == '_')
    {
        let rest = text.strip_prefix(plain);
        return rest.is_some_and(|rest| sets(rest, &pattern[1..]));
    }
    let (set, rest) = pattern
        .strip_prefix('[')
        .and_then(|rest| rest.split_once(']'))
        .unwrap_or_else(|| panic!("{pattern} is no set"));
    let (least, most, rest) = match rest.chars().next() {
        Some('*') => (0, usize::MAX, &rest[1..]),
        Some('+') => (1, usize::MAX, &rest[1..]),
        _ => (1, 1, rest),
    };
    let run = text
        .chars()
        .take(most)
        .take_while(|c| holds(set, *c))
        .count();
    (least..=run).any(|taken| {
        let at = text
            .char_indices()
            .nth(taken)
            .map_or(text.len(), |(at, _)| at);
        sets(&text[at..], rest)
    })
}

fn holds(set: &str, c: char) -> bool {
    let (turned, set) = set
        .strip_prefix('^')
        .map_or((false, set), |set| (true, set));
    let marks: Vec<char> = set.chars().collect();
    let mut at = 0;
    let mut found = false;
    while at < marks.len() {
        if at + 2 < marks.len() && marks[at + 1] == '-' {
            found |= (marks[at]..=marks[at + 2]).contains(&c);
            at += 3;
        } else {
            found |= marks[at] == c;
            at += 1;
        }
    }
    found != turned
}
