//! A guide as data for programs that read pages: `HowTo` of schema.org, as JSON-LD.
//!
//! It says what the sheet says, cautions before the act they are about; whoever shows the steps alone shows
//! them too. Only a site with an address has it: without one its steps cannot be linked.

use super::press::Press;
use super::qr;
use super::record_data::json;
use super::search::{plain_text, sentences};
use super::view::{Block, CautionView, GuidePage, Html, MarkView, PartView, StageView, StepView};
use crate::book::model::Guide;
use crate::quantity::{Duration, Exact};
use crate::reckon::plan::{Basis, Plan};
use serde::{Serialize, Serializer};
use std::borrow::Cow;

/// <https://schema.org/HowTo>.
#[derive(Serialize)]
struct HowTo<'p> {
    #[serde(rename = "@context")]
    context: &'static str,
    #[serde(rename = "@type")]
    kind: &'static str,
    name: &'p str,
    url: &'p str,
    #[serde(skip_serializing_if = "String::is_empty")]
    description: String,
    #[serde(rename = "totalTime", skip_serializing_if = "Option::is_none")]
    total_time: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tool: Vec<HowToTool<'p>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    supply: Vec<HowToSupply<'p>>,
    step: Vec<Part<'p>>,
}

#[derive(Serialize)]
#[serde(tag = "@type")]
struct HowToTool<'p> {
    name: &'p str,
}

#[derive(Serialize)]
#[serde(tag = "@type")]
struct HowToSupply<'p> {
    name: Cow<'p, str>,
    #[serde(rename = "requiredQuantity", skip_serializing_if = "Option::is_none")]
    quantity: Option<&'p str>,
}

/// What a job is made of.
#[derive(Serialize)]
#[serde(untagged)]
enum Part<'p> {
    Step(HowToStep<'p>),
    Section(HowToSection<'p>),
}

#[derive(Serialize)]
#[serde(tag = "@type")]
struct HowToStep<'p> {
    name: Cow<'p, str>,
    text: String,
    url: Url<'p>,
}

#[derive(Serialize)]
#[serde(tag = "@type")]
struct HowToSection<'p> {
    name: &'p str,
    url: Url<'p>,
    #[serde(skip_serializing_if = "String::is_empty")]
    description: String,
    #[serde(rename = "itemListElement")]
    steps: Vec<HowToStep<'p>>,
}

/// A place on the page of the guide.
struct Url<'p> {
    page: &'p str,
    fragment: &'p str,
}

impl Serialize for Url<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&format_args!("{}#{}", self.page, self.fragment))
    }
}

/// The data of a guide. `None`: the boat names no address.
#[must_use]
pub fn how_to(press: &Press<'_>, guide: &Guide, plan: Option<&Plan<'_>>, page: &GuidePage) -> Option<Html> {
    let address = qr::address(press.book.boat.site.as_deref(), &format!("guides/{}.html", page.id))?;
    let teller = Teller { press, address: &address };
    let first = Part::Step(teller.cautions(page));
    let stages = page.stages.iter().map(|stage| Part::Section(teller.stage(stage)));
    Some(Html(json(&HowTo {
        context: "https://schema.org",
        kind: "HowTo",
        name: &page.title,
        url: &address,
        description: sentences(page.summary.as_deref().map(Cow::Borrowed).into_iter().chain([Cow::Owned(plain_text(&page.intro.0))])),
        total_time: total_time(guide, plan).map(|time| time.iso8601()),
        tool: page.tools.iter().map(|tool| HowToTool { name: &tool.title }).collect(),
        supply: page.parts.iter().map(|part| teller.supply(part)).collect(),
        step: std::iter::once(first).chain(stages).collect(),
    })))
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

impl<'t> Teller<'t, '_> {
    fn url(&self, fragment: &'t str) -> Url<'t> {
        Url { page: self.address, fragment }
    }

    /// Before the first stage: the cautions of the whole job, or that the writer listed none.
    fn cautions(&self, page: &GuidePage) -> HowToStep<'t> {
        let unlisted = page.no_hazards_listed.then(|| self.press.words.text("guide.no-hazards"));
        HowToStep {
            name: self.press.words.text("guide.cautions").into(),
            text: sentences(page.cautions.iter().map(caution).chain(unlisted)),
            url: self.url("cautions"),
        }
    }

    fn stage(&self, stage: &'t StageView) -> HowToSection<'t> {
        let mut prose: Vec<String> = Vec::new();
        let mut steps: Vec<HowToStep<'_>> = Vec::new();
        for block in &stage.blocks {
            match block {
                Block::Prose { html } => prose.push(plain_text(&html.0)),
                Block::Cautions { cautions } => steps.push(HowToStep {
                    name: stage.title_text.as_str().into(),
                    text: sentences(cautions.iter().map(caution)),
                    url: self.url(&stage.id),
                }),
                Block::Steps { steps: of_block, .. } => steps.extend(of_block.iter().map(|step| self.stage_step(stage, step))),
            }
        }
        HowToSection { name: &stage.title_text, url: self.url(&stage.id), description: sentences(prose), steps }
    }

    fn stage_step(&self, stage: &StageView, step: &'t StepView) -> HowToStep<'t> {
        let name = self.press.words.say("search.step", &[("stage", &stage.title_text), ("n", &step.number.to_string())]);
        let text = sentences(step.cautions.iter().map(caution).chain([plain_text(&step.html.0)]).chain(step.marks.iter().map(mark)));
        HowToStep { name: name.into(), text, url: self.url(&step.id) }
    }

    fn supply(&self, part: &'t PartView) -> HowToSupply<'t> {
        let name = if part.if_worn {
            Cow::Owned([part.title.as_str(), ", ", &self.press.words.text("guide.if-worn")].concat())
        } else {
            Cow::Borrowed(part.title.as_str())
        };
        HowToSupply { name, quantity: part.quantity.as_deref() }
    }
}

/// What a mark says, with its limits.
fn mark(mark: &MarkView) -> String {
    match &mark.limits {
        Some(limits) => [mark.label.as_str(), ": ", &mark.text, ", ", limits].concat(),
        None => [mark.label.as_str(), ": ", &mark.text].concat(),
    }
}

/// Signal word, harm, how to avoid it, and to whom it is left.
fn caution(caution: &CautionView) -> String {
    let all = [Cow::Owned(plain_text(&caution.body.0))];
    let more = caution.avoid.iter().chain(&caution.defer).map(|words| Cow::Borrowed(words.as_str()));
    [caution.word.as_str(), ": ", &sentences(all.into_iter().chain(more))].concat()
}
