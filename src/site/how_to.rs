//! A guide as data for programs that read pages: `HowTo` of schema.org, as JSON-LD.
//!
//! It says what the sheet says, cautions before the act they are about; whoever shows the steps alone shows
//! them too. Only a site with an address has it: without one its steps cannot be linked.

use super::press::Press;
use super::qr;
use super::record_data::json;
use super::search::{plain_text, sentences};
use super::view::{Block, CautionView, GuidePage, Html, PartView, StageView, StepView};
use crate::book::model::Guide;
use crate::quantity::{Duration, Exact};
use crate::reckon::plan::{Basis, Plan};
use serde_json::{Map, Value, json};

/// The data of a guide. `None`: the boat names no address.
#[must_use]
pub fn how_to(press: &Press<'_>, guide: &Guide, plan: Option<&Plan<'_>>, page: &GuidePage) -> Option<Html> {
    let address = qr::address(press.book.boat.site.as_deref(), &format!("guides/{}.html", page.id))?;
    let teller = Teller { press, address: &address };
    let steps = std::iter::once(teller.cautions(page)).chain(page.stages.iter().map(|stage| teller.stage(stage)));
    let mut data = Map::new();
    let mut put = |key: &str, value: Value| data.insert(key.to_owned(), value);
    put("@context", json!("https://schema.org"));
    put("@type", json!("HowTo"));
    put("name", json!(page.title));
    put("url", json!(address));
    let about = sentences(page.summary.iter().cloned().chain([plain_text(&page.intro.0)]));
    if !about.is_empty() {
        put("description", json!(about));
    }
    if let Some(time) = total_time(guide, plan) {
        put("totalTime", json!(time.iso8601()));
    }
    if !page.tools.is_empty() {
        put("tool", page.tools.iter().map(|tool| json!({"@type": "HowToTool", "name": tool.title})).collect());
    }
    if !page.parts.is_empty() {
        put("supply", page.parts.iter().map(|part| teller.supply(part)).collect());
    }
    put("step", steps.collect());
    Some(Html(json(&data)))
}

/// From start to end. `None`: some steps do not say how long they take, and less than the whole would be wrong.
fn total_time(guide: &Guide, plan: Option<&Plan<'_>>) -> Option<Duration> {
    let plan = plan?;
    match plan.sums.basis {
        Basis::Steps { some_untimed: false } => {
            let seconds = (plan.elapsed * Exact::from_integer(60)).ceil().to_integer();
            Duration::from_seconds(i64::try_from(seconds).ok()?).filter(|time| !time.is_zero())
        }
        Basis::FrontMatter => guide.time,
        Basis::Steps { .. } | Basis::Nothing => None,
    }
}

/// What all parts of the data are told with.
struct Teller<'t, 'b> {
    press: &'t Press<'b>,
    address: &'t str,
}

impl Teller<'_, '_> {
    fn step(&self, name: &str, text: &str, fragment: &str) -> Value {
        json!({"@type": "HowToStep", "name": name, "text": text, "url": format!("{}#{fragment}", self.address)})
    }

    /// Before the first stage: the cautions of the whole job, or that the writer listed none.
    fn cautions(&self, page: &GuidePage) -> Value {
        let unlisted = page.no_hazards_listed.then(|| self.press.words.text("guide.no-hazards"));
        let text = sentences(page.cautions.iter().map(caution).chain(unlisted));
        self.step(&self.press.words.text("guide.cautions"), &text, "cautions")
    }

    fn stage(&self, stage: &StageView) -> Value {
        let mut prose: Vec<String> = Vec::new();
        let mut steps: Vec<Value> = Vec::new();
        for block in &stage.blocks {
            match block {
                Block::Prose { html } => prose.push(plain_text(&html.0)),
                Block::Cautions { cautions } => {
                    let text = sentences(cautions.iter().map(caution));
                    steps.push(self.step(&stage.title_text, &text, &stage.id));
                }
                Block::Steps { steps: of_block, .. } => steps.extend(of_block.iter().map(|step| self.stage_step(stage, step))),
            }
        }
        let mut section = json!({"@type": "HowToSection", "name": stage.title_text, "url": format!("{}#{}", self.address, stage.id)});
        let prose = sentences(prose);
        if !prose.is_empty() {
            section["description"] = json!(prose);
        }
        section["itemListElement"] = Value::Array(steps);
        section
    }

    fn stage_step(&self, stage: &StageView, step: &StepView) -> Value {
        let name = self.press.words.say("search.step", &[("stage", &stage.title_text), ("n", &step.number.to_string())]);
        let marks = step.marks.iter().map(|mark| match &mark.limits {
            Some(limits) => format!("{}: {}, {limits}", mark.label, mark.text),
            None => format!("{}: {}", mark.label, mark.text),
        });
        let text = sentences(step.cautions.iter().map(caution).chain([plain_text(&step.html.0)]).chain(marks));
        self.step(&name, &text, &step.id)
    }

    fn supply(&self, part: &PartView) -> Value {
        let if_worn = self.press.words.text("guide.if-worn");
        let name = if part.if_worn { format!("{}, {if_worn}", part.title) } else { part.title.clone() };
        match &part.quantity {
            Some(quantity) => json!({"@type": "HowToSupply", "name": name, "requiredQuantity": quantity}),
            None => json!({"@type": "HowToSupply", "name": name}),
        }
    }
}

/// Signal word, harm, how to avoid it, and to whom it is left.
fn caution(caution: &CautionView) -> String {
    let body = plain_text(&caution.body.0);
    let all = [body].into_iter().chain(caution.avoid.iter().cloned()).chain(caution.defer.clone());
    format!("{}: {}", caution.word, sentences(all))
}
