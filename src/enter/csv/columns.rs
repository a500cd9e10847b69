//! Which column of a table is what: by its name, by a table of synonyms, or as the crew says.

use super::CsvProblem;
use super::units::unit_of;
use crate::book::diagnostic::nearest;
use crate::book::id::{has_id, id_of, key_of};
use crate::book::model::Boat;
use crate::quantity::{Dimension, Unit};

/// What a column becomes in an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    Date,
    /// The name of a guide, or of work that no guide describes.
    Job,
    Work,
    /// A meter, by its id.
    Meter(String),
    /// How long it took; the unit of bare numbers, `h` or `min`, where it is known.
    Time(Option<String>),
    /// What it cost; the currency of bare numbers where it is known.
    Cost(Option<String>),
    Place,
    /// `owner`, `yard` or `licensed`, else a name.
    DoneBy,
    By,
    Notes,
    /// Passed over, as the crew wished.
    Nothing,
}

/// Names of columns, as ids, in English and German, by what they become. Meters come besides by
/// their own ids and titles.
const SYNONYMS: &[(&str, &[&str])] = &[
    ("date", &["date", "day", "done", "done-on", "date-done", "when", "datum", "tag", "erledigt", "erledigt-am", "wann"]),
    ("job", &["job", "task", "guide", "maintenance", "service", "item", "arbeit", "aufgabe", "auftrag", "wartung", "anleitung"]),
    ("work", &["work", "work-done", "what", "what-was-done", "description", "was", "tatigkeit", "beschreibung", "ausgefuhrte-arbeit"]),
    (
        "hours",
        &["hours", "hrs", "engine-hrs", "engine-hours", "motor-hours", "hour-meter", "stunden", "motorstunden", "betriebsstunden", "std"],
    ),
    ("miles", &["miles", "log", "nm", "nmi", "distance", "meilen", "seemeilen", "sm", "logge", "distanz"]),
    ("time", &["time", "time-taken", "duration", "time-spent", "zeit", "dauer", "zeitaufwand"]),
    ("cost", &["cost", "costs", "price", "amount", "total", "kosten", "preis", "betrag", "summe"]),
    ("place", &["place", "location", "where", "port", "harbour", "harbor", "ort", "hafen", "wo"]),
    ("done-by", &["done-by", "who", "erledigt-durch", "ausgefuhrt-von", "wer", "durch"]),
    ("by", &["by", "name", "von"]),
    (
        "notes",
        &[
            "notes",
            "note",
            "remarks",
            "remark",
            "comment",
            "comments",
            "details",
            "bemerkung",
            "bemerkungen",
            "notiz",
            "notizen",
            "anmerkung",
            "anmerkungen",
            "kommentar",
        ],
    ),
];

/// What `--column` may say after the `=`.
const TARGETS: &str = "`date`, `job`, `work`, `meter:ID`, `time`, `time:h`, `time:min`, `cost`, `cost:EUR`, `place`, `done-by`, `by`, `notes`, \
                       or `-` to pass it over";

/// What each column is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Columns {
    /// As many as the header has; `None`: nobody knows.
    pub targets: Vec<Option<Target>>,
}

impl Columns {
    /// Matches a header; `said` are the `NAME=TARGET` of the crew, which count first.
    ///
    /// # Errors
    /// A name that no column has, a target that is none, one target for two columns, or no column
    /// of days.
    pub fn of(header: &[String], said: &[String], boat: &Boat) -> Result<Self, Vec<CsvProblem>> {
        let mut problems = Vec::new();
        let mut targets: Vec<Option<Target>> = vec![None; header.len()];
        for words in said {
            match spoken(words, header, boat) {
                Ok((column, target)) => {
                    if let Some(slot) = targets.get_mut(column) {
                        *slot = Some(target);
                    }
                }
                Err(problem) => problems.push(problem),
            }
        }
        for (at, name) in header.iter().enumerate() {
            if targets.get(at).is_some_and(Option::is_none) {
                // What another column is already is nothing to guess at.
                let target = known(name, boat).filter(|target| !targets.iter().flatten().any(|other| same(other, target)));
                if let Some(slot) = targets.get_mut(at) {
                    *slot = target;
                }
            }
        }
        for (at, target) in targets.iter().enumerate() {
            let Some(target) = target else { continue };
            let several = matches!(target, Target::Notes | Target::Work | Target::Nothing);
            if !several && targets.iter().take(at).flatten().any(|other| same(other, target)) {
                let name = header.get(at).map_or("", String::as_str);
                problems.push(CsvProblem::new(
                    format!("`{name}` and another column cannot both be that"),
                    format!("pass one over: `--column \"{name}=-\"`"),
                ));
            }
        }
        if !targets.contains(&Some(Target::Date)) {
            let names: Vec<String> = header.iter().map(|name| format!("`{name}`")).collect();
            problems.push(CsvProblem::new(
                format!("no column is the date; the first line has {}", names.join(", ")),
                "say which it is: `--column \"NAME=date\"`",
            ));
        }
        // Where there is no column of jobs, that of work has their names.
        if !targets.contains(&Some(Target::Job))
            && let Some(slot) = targets.iter_mut().find(|target| **target == Some(Target::Work))
        {
            *slot = Some(Target::Job);
        }
        if problems.is_empty() { Ok(Self { targets }) } else { Err(problems) }
    }

    /// The columns that become this.
    pub fn all(&self, wanted: impl Fn(&Target) -> bool) -> impl Iterator<Item = usize> {
        self.targets.iter().enumerate().filter(move |(_, target)| target.as_ref().is_some_and(&wanted)).map(|(at, _)| at)
    }

    /// The one column that becomes this.
    #[must_use]
    pub fn one(&self, wanted: &Target) -> Option<usize> {
        self.all(|target| target == wanted).next()
    }

    /// What a column becomes, in words.
    #[must_use]
    pub fn said(&self, column: usize) -> Option<String> {
        Some(match self.targets.get(column)?.as_ref()? {
            Target::Date => "date".to_owned(),
            Target::Job => "job".to_owned(),
            Target::Work => "work".to_owned(),
            Target::Meter(id) => format!("meter:{id}"),
            Target::Time(unit) => with("time", unit.as_deref()),
            Target::Cost(code) => with("cost", code.as_deref()),
            Target::Place => "place".to_owned(),
            Target::DoneBy => "done-by".to_owned(),
            Target::By => "by".to_owned(),
            Target::Notes => "notes".to_owned(),
            Target::Nothing => return None,
        })
    }
}

fn with(word: &str, more: Option<&str>) -> String {
    more.map_or_else(|| word.to_owned(), |more| format!("{word}:{more}"))
}

/// Whether two targets cannot be of two columns.
fn same(one: &Target, other: &Target) -> bool {
    one == other || matches!((one, other), (Target::Time(_), Target::Time(_)) | (Target::Cost(_), Target::Cost(_)))
}

/// `NAME=TARGET`.
fn spoken(words: &str, header: &[String], boat: &Boat) -> Result<(usize, Target), CsvProblem> {
    let Some((name, target)) = words.rsplit_once('=') else {
        return Err(CsvProblem::new(
            format!("`{words}` does not say what the column is"),
            "write its name, `=` and what it is: `--column \"Engine hrs=meter:engine\"`",
        ));
    };
    let name = name.trim();
    let exact = header.iter().position(|known| known == name);
    let Some(column) = exact.or_else(|| header.iter().position(|known| key_of(known) == key_of(name))) else {
        let near = nearest(name, header.iter().map(String::as_str));
        let all: Vec<String> = header.iter().map(|name| format!("`{name}`")).collect();
        let remedy = near.map_or_else(|| format!("its columns are {}", all.join(", ")), |near| format!("did you mean `{near}`"));
        return Err(CsvProblem::new(format!("no column is called `{name}`"), remedy));
    };
    let target = target.trim();
    let (word, more) = target.split_once(':').map_or((target, None), |(word, more)| (word, Some(more.trim())));
    let target = match (word, more) {
        ("date", None) => Target::Date,
        ("job", None) => Target::Job,
        ("work", None) => Target::Work,
        ("meter", Some(id)) => {
            let ids = boat.meters.iter().map(|meter| meter.id.value.as_str());
            if boat.meter(id).is_none() {
                let all: Vec<String> = ids.clone().map(|id| format!("`{id}`")).collect();
                let remedy = nearest(id, ids).map_or_else(
                    || {
                        if all.is_empty() {
                            "write the meters into `boat.yaml` first".to_owned()
                        } else {
                            format!("the meters are {}", all.join(", "))
                        }
                    },
                    |near| format!("did you mean `{near}`"),
                );
                return Err(CsvProblem::new(format!("`boat.yaml` has no meter `{id}`"), remedy));
            }
            Target::Meter(id.to_owned())
        }
        ("time", None | Some("h" | "min")) => Target::Time(more.map(str::to_owned)),
        ("cost", None) => Target::Cost(None),
        ("cost", Some(code)) if is_code(code) => Target::Cost(Some(code.to_owned())),
        ("place", None) => Target::Place,
        ("done-by", None) => Target::DoneBy,
        ("by", None) => Target::By,
        ("notes", None) => Target::Notes,
        ("-", None) => Target::Nothing,
        _ => return Err(CsvProblem::new(format!("a column cannot be `{target}`"), format!("write {TARGETS}"))),
    };
    Ok((column, target))
}

/// What a name says by itself: the id or title of a meter, or a synonym. Brackets at its end hold a unit.
fn known(name: &str, boat: &Boat) -> Option<Target> {
    let (bare, unit) = match name.trim_end().strip_suffix([')', ']']).and_then(|open| open.rsplit_once(['(', '['])) {
        Some((bare, unit)) => (bare.trim(), Some(unit.trim())),
        None => (name.trim(), None),
    };
    let meter = |name: &str| boat.meters.iter().find(|meter| key_of(&meter.title) == key_of(name) || has_id(name, &meter.id.value));
    if let Some(meter) = meter(name).or_else(|| meter(bare)) {
        return Some(Target::Meter(meter.id.value.clone()));
    }
    // `Cost EUR` says its currency as `Cost (EUR)` does.
    let (bare, unit) = match bare.rsplit_once(' ') {
        Some((words, code)) if unit.is_none() && (is_code(code) || code == "€") => (words, Some(code)),
        _ => (bare, unit),
    };
    let key = id_of(bare);
    let (word, _) = SYNONYMS.iter().find(|(_, names)| names.contains(&key.as_str()))?;
    Some(match *word {
        "date" => Target::Date,
        "job" => Target::Job,
        "work" => Target::Work,
        "hours" => Target::Meter(only(boat, Dimension::Time)?),
        "miles" => Target::Meter(only(boat, Dimension::Distance)?),
        "time" => {
            let unit = unit.and_then(unit_of).filter(|unit| matches!(unit, Unit::Hour | Unit::Minute));
            Target::Time(unit.map(|unit| unit.symbol().to_owned()))
        }
        "cost" => Target::Cost(
            unit.and_then(|unit| if unit == "€" { Some("EUR") } else { Some(unit).filter(|code| is_code(code)) }).map(str::to_owned),
        ),
        "place" => Target::Place,
        "done-by" => Target::DoneBy,
        "by" => Target::By,
        _ => Target::Notes,
    })
}

/// The meter of this kind where there is just one.
fn only(boat: &Boat, dimension: Dimension) -> Option<String> {
    let mut meters = boat.meters.iter().filter(|meter| meter.unit.dimension() == dimension);
    let meter = meters.next()?;
    meters.next().is_none().then(|| meter.id.value.clone())
}

/// Three capitals, as ISO 4217 has them.
pub(super) fn is_code(code: &str) -> bool {
    code.len() == 3 && code.bytes().all(|byte| byte.is_ascii_uppercase())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::model::Meter;
    use crate::book::source::{Placed, Span};

    fn boat(meters: &[(&str, &str, Unit)]) -> Boat {
        let meter = |(id, title, unit): &(&str, &str, Unit)| Meter {
            id: Placed::new((*id).to_owned(), Span::default()),
            title: (*title).to_owned(),
            unit: *unit,
        };
        Boat { meters: meters.iter().map(meter).collect(), ..Boat::default() }
    }

    fn two_meters() -> Boat {
        boat(&[("engine", "Engine hours", Unit::Hour), ("miles", "Miles by log", Unit::NauticalMile)])
    }

    #[track_caller]
    fn case(header: &[&str], said: &[&str], expected: &[&str]) {
        let owned = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
        let columns = Columns::of(&owned(header), &owned(said), &two_meters()).expect("columns");
        let found: Vec<String> = (0..header.len()).map(|at| columns.said(at).unwrap_or_default()).collect();
        assert_eq!(found, expected, "for {header:?} {said:?}");
    }

    #[track_caller]
    fn refused(header: &[&str], said: &[&str], words: &str) {
        let owned = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
        let problems = Columns::of(&owned(header), &owned(said), &two_meters()).expect_err("refused");
        assert!(problems.iter().any(|problem| format!("{} {}", problem.message, problem.remedy).contains(words)), "{problems:?}");
    }

    #[test]
    fn columns_are_known_by_their_names() {
        case(&["Date", "Job", "Hours", "Notes"], &[], &["date", "job", "meter:engine", "notes"]);
        case(
            &["Datum", "Arbeit", "Motorstunden", "Seemeilen", "Dauer (min)", "Kosten (EUR)", "Ort", "Erledigt durch", "Bemerkungen"],
            &[],
            &["date", "job", "meter:engine", "meter:miles", "time:min", "cost:EUR", "place", "done-by", "notes"],
        );
        case(&["DATE ", "Engine hours (h)", "miles", "Cost €", "Colour"], &[], &["date", "meter:engine", "meter:miles", "cost:EUR", ""]);
        case(&["Date", "Zeit (Std.)"], &[], &["date", "time:h"]);
        case(&["Date", "Time [Minutes]"], &[], &["date", "time:min"]);
        case(&["Date", "Time (days)"], &[], &["date", "time"]);
        // Without a column of jobs, the first of work has their names.
        case(&["Date", "Description"], &[], &["date", "job"]);
        case(&["Date", "Job", "Description"], &[], &["date", "job", "work"]);
        // The second of two is nothing to guess at.
        case(&["Date", "Datum", "Hours", "Engine hours"], &[], &["date", "", "meter:engine", ""]);
    }

    #[test]
    fn what_the_crew_says_counts_first() {
        case(&["Date", "Engine hrs", "Hours"], &["hours=time:h", "Engine hrs=meter:engine"], &["date", "meter:engine", "time:h"]);
        case(&["Date", "a=b"], &["a=b=notes"], &["date", "notes"]);
        case(&["Date", "Job"], &["Job=-"], &["date", ""]);
        refused(&["Date"], &["Dat=date"], "did you mean `Date`");
        refused(&["Date", "x"], &["x=meter:engin"], "did you mean `engine`");
        refused(&["Date", "x"], &["x=metre"], "meter:ID");
        refused(&["Date", "x"], &["x=time:days"], "time:min");
        refused(&["Date", "x"], &["x"], "Engine hrs=meter:engine");
        refused(&["Date", "x"], &["x=date", "Date=date"], "cannot both");
        refused(&["Dade", "x"], &[], "no column is the date");
    }

    #[test]
    fn hours_of_two_engines_are_nobodys() {
        let boat = boat(&[("port", "Port", Unit::Hour), ("starboard", "Starboard", Unit::Hour)]);
        let columns = Columns::of(&["Date".to_owned(), "Hours".to_owned()], &[], &boat).expect("columns");
        assert_eq!(columns.targets, [Some(Target::Date), None]);
    }
}
