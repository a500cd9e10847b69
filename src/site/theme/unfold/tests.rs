use super::unfolded;
use crate::site::theme::{DEFAULT, Theme, ThemeFiles, engine};
use crate::site::words::Words;
use serde::Serialize;

const WORDS: &str = "a: {b: Steps & more, c: ' blank', d: 'Step {n}', n: {one: '{n} entry', other: '{n} entries'}}\n";

/// A template beside components, unfolded.
#[track_caller]
fn case(components: &str, template: &str, expected: &str) {
    let words = Words::parse("en", WORDS).expect("reads");
    let told = unfolded(&[("pieces.html", components), ("page.html", template)], &words);
    assert_eq!(told.last().map(|(_, text)| text.as_str()), Some(expected));
}

#[test]
fn words_are_put_in_escaped() {
    case("", "<h2>{{ say(k=\"a.b\") }}</h2>", "<h2>Steps &amp; more</h2>");
    case("", "{{ say(k=\"a.d\", n=s.number) }}", "Step {{ s.number }}");
}

#[test]
fn words_that_depend_on_more_are_asked_for() {
    for template in [
        "{{ say(k=\"a.none\") }}",
        "{{ say(k=\"a.c\") }}",
        "{{ say(k=\"a.d\") }}",
        "{{ say(k=\"a.n\", n=s.number) }}",
        "{{ say(k=\"a.d\", n=s.number | length) }}",
        "{{- say(k=\"a.b\") }}",
        "{{ say(k=key) }}",
        "{# {{ say(k=\"a.b\") }} #}",
        "{% raw %}{{ say(k=\"a.b\") }}{% endraw %}",
    ] {
        case("", template, template);
    }
}

const DATE: &str =
    "{% component date(d) %}<time{% if d.iso %} datetime=\"{{ d.iso }}\"{% endif %}>{{ d.text }}</time>{% endcomponent date %}";

#[test]
fn a_component_speaks_with_the_names_of_its_caller() {
    case(
        DATE,
        "{{ <date d={page.on}/> }}",
        "<time{% if page.on.iso %} datetime=\"{{ page.on.iso }}\"{% endif %}>{{ page.on.text }}</time>",
    );
    let links = "{% component links(list, brief=false) -%} \n{% for to in list %}{{ to.text }}{% if not loop.last and not brief %}, {% endif %}{% endfor %}{%- endcomponent links %}";
    case(
        links,
        "{{ <links list={page.links}/> }}",
        "{% for to in page.links %}{{ to.text }}{% if not loop.last and not false %}, {% endif %}{% endfor %}",
    );
    let nested = format!("{DATE}{{% component row(r) -%}}\n<p>{{{{ <date d={{r.on}}/> }}}}</p>\n{{%- endcomponent row %}}");
    case(
        &nested,
        "{% for r in page.rows %}{{ <row r={r}/> }}{% endfor %}",
        "{% for r in page.rows %}<p><time{% if r.on.iso %} datetime=\"{{ r.on.iso }}\"{% endif %}>{{ r.on.text }}</time></p>{% endfor %}",
    );
    let hyphens = "{% component c(d) -%}{%- if d -%}\n{{ d }}{%- endif -%}{%- endcomponent c %}";
    case(hyphens, "a {{ <c d={x}/> }} b", "a {% if x -%}\n{{ x }}{%- endif %} b");
    let anchored = "{% component c(id=\"\") %}<p{% if id %} id=\"{{ id }}\"{% endif %}>{% endcomponent c %}";
    case(
        anchored,
        "{{ <c id={\"c-\" ~ loop.index}/> }}",
        "<p{% if (\"c-\" ~ loop.index) %} id=\"{{ (\"c-\" ~ loop.index) }}\"{% endif %}>",
    );
}

#[test]
fn a_component_that_could_say_something_else_is_called() {
    for (component, call) in [
        // Blanks at its edge, which a hyphen beside the call would reach.
        ("{% component c(d) %} {{ d }}{% endcomponent c %}", "{{ <c d={x}/> }}"),
        // A name that the caller may have and the component has not.
        ("{% component c(d) %}{{ d }}{{ frame }}{% endcomponent c %}", "{{ <c d={x}/> }}"),
        // Its loop would hide what is handed to it.
        ("{% component c(d) %}{% for x in d %}{{ x }}{% endfor %}{% endcomponent c %}", "{{ <c d={x.list}/> }}"),
        ("{% component c(d) %}{% for y in d %}{{ y }}{% endfor %}{% endcomponent c %}", "{{ <c d={loop.index}/> }}"),
        // It sets names.
        ("{% component c(d) %}{% set x = d %}{{ x }}{% endcomponent c %}", "{{ <c d={y}/> }}"),
        // Something is given that it does not know, or not given that it needs.
        ("{% component c(d) %}{{ d }}{% endcomponent c %}", "{{ <c e={x}/> }}"),
        ("{% component c(d) %}{{ d }}{% endcomponent c %}", "{{ <c/> }}"),
        // Types are the engine's to hold, and so is what two components of one name are.
        ("{% component c(d: string) %}{{ d }}{% endcomponent c %}", "{{ <c d={x}/> }}"),
        ("{% component c() %}a{% endcomponent c %}{% component c() %}b{% endcomponent c %}", "{{ <c/> }}"),
        // What ends in a brace would make a mark with what stands behind the call.
        ("{% component c(d) %}{{ d }} {\n{%- endcomponent c %}", "{{ <c d={x}/> }}"),
        // Where the list is empty, the name is that of the parameter.
        ("{% component c(x, l) %}{% for x in l %}{{ x }}{% else %}{{ x }}{% endfor %}{% endcomponent c %}", "{{ <c x={y} l={z}/> }}"),
        // It calls itself.
        ("{% component c(d) %}{{ <c d={d}/> }}{% endcomponent c %}", "{{ <c d={x}/> }}"),
    ] {
        case(component, call, call);
    }
}

#[test]
fn of_an_argument_given_twice_the_last_counts() {
    case("{% component c(d) %}{{ d }}{% endcomponent c %}", "{{ <c d={x} d={y}/> }}", "{{ y }}");
}

/// A page for templates of these tests.
#[derive(Serialize)]
struct Page {
    name: &'static str,
}

fn files(page: &str) -> ThemeFiles {
    let folder = tempfile::tempdir().expect("a folder");
    let theme = folder.path().join(DEFAULT);
    std::fs::create_dir(&theme).expect("made");
    std::fs::write(theme.join("page.html"), page).expect("written");
    ThemeFiles::gather(DEFAULT, Some(folder.path())).expect("gathered")
}

#[test]
fn an_error_is_told_of_the_template_as_it_is_written() {
    let page = "{{ say(k=\"guide.steps\") }} {{ <link to={page.missing}/> }}";
    let theme = Theme::new(&files(page), "en").expect("read");
    let error = theme.print("page.html", &(), &Page { name: "x" }).expect_err("nothing is there");
    assert!(error.message.contains("say(k=\"guide.steps\")"), "{}", error.message);
    let broken = Theme::new(&files("{{ say(k=\"guide.steps\") }} {{ page."), "en").expect_err("not closed");
    assert!(broken.message.contains("say(k=\"guide.steps\")"), "{}", broken.message);
}

#[test]
fn the_engine_reads_the_theme_that_ships_unfolded() {
    let files = ThemeFiles::gather(DEFAULT, None).expect("gathered");
    let templates: Vec<(&str, &str)> =
        files.iter().filter(|(path, _)| path.ends_with(".html")).filter_map(|(path, _)| Some((path, files.text(path)?))).collect();
    for language in ["en", "de"] {
        let words = Words::parse(language, files.text(&format!("words/{language}.yaml")).expect("there")).expect("reads");
        let told = unfolded(&templates, &words);
        engine(&told, &words).expect("read");
        let guide = told.iter().find(|(path, _)| *path == "guide.html").map(|(_, text)| text.as_str()).unwrap_or_default();
        for called in ["<date ", "<link ", "<links ", "<step ", "<marks ", "<caution "] {
            assert!(!guide.contains(called), "{called}");
        }
    }
}

#[test]
fn what_is_printed_is_escaped() {
    let theme = Theme::new(&files("{{ page.name }} {{ say(k=\"guide.steps\") }}"), "en").expect("read");
    let told = theme.print("page.html", &(), &Page { name: "<b>&'\"" }).expect("printed");
    assert_eq!(told, "&lt;b&gt;&amp;&#39;&quot; Steps");
}

#[test]
fn a_theme_of_ones_own_is_read_as_it_is_written() {
    for (page, expected) in [
        // A parameter that is taken from whoever calls (`@`), two calls up.
        (
            "{% component tick(@row) %}{{ row }}{% endcomponent tick %}{% component boxed(row) %}<b>{{ <tick/> }}</b>{% endcomponent boxed %}\
             {% for row in [\"a\", \"b\"] %}{{ <boxed row=\"c\"/> }}{% endfor %}",
            "<b>c</b><b>c</b>",
        ),
        // A text marked as safe, in words that are escaped.
        ("{% set n = \"<i>\" | safe %}{{ say(k=\"guide.step\", n=n) }}", "Step &lt;i&gt;"),
    ] {
        let theme = Theme::new(&files(page), "en").expect("read");
        assert_eq!(theme.print("page.html", &(), &Page { name: "x" }).expect("printed"), expected);
    }
}
