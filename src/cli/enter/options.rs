//! The options that make an entry, one a key of the format.

use clap::Args;

const WHAT: &str = "What was done";
const WHEN: &str = "When";
const FOUND: &str = "What it took, and what was found";
const MORE: &str = "More";

/// An entry as options say it. Days and names are looked at once the book has been read.
#[derive(Debug, Clone, Default, Args)]
pub struct EntryOptions {
    /// Jobs that were done, by the ids or titles of their guides: `oil-and-filter`, or
    /// `oil-and-filter/port-engine` where the guide is for several
    #[arg(value_name = "JOB")]
    pub jobs: Vec<String>,

    /// Work that no guide describes
    #[arg(long, value_name = "TEXT", help_heading = WHAT)]
    pub work: Vec<String>,

    /// The system such work belongs to
    #[arg(long, value_name = "ID", help_heading = WHAT)]
    pub system: Option<String>,

    /// The gear that was worked on
    #[arg(long, value_name = "ID", help_heading = WHAT)]
    pub gear: Vec<String>,

    /// The day it was done: `today`, `yesterday`, `14 Mar`, `14.3.`, `2026-03-14`, or `~2021-05` for
    /// about then [default: today]
    #[arg(long, visible_alias = "done", value_name = "DAY", help_heading = WHEN)]
    pub date: Option<String>,

    /// The day it was begun, for work over several days
    #[arg(long, value_name = "DAY", help_heading = WHEN)]
    pub started: Option<String>,

    /// The job is begun and not finished
    #[arg(long, help_heading = WHEN)]
    pub open: bool,

    /// While open: the stage to go on from
    #[arg(long, value_name = "STAGE", requires = "open", help_heading = WHEN)]
    pub reached: Option<String>,

    /// While open: how the boat was left
    #[arg(long, value_name = "TEXT", requires = "open", help_heading = WHEN)]
    pub left: Vec<String>,

    /// How long it really took: `2 h 40 min`
    #[arg(long, value_name = "TIME", help_heading = WHEN)]
    pub time: Option<String>,

    /// What a meter showed: `engine=1840.5`, or `engine=~1840` for about
    #[arg(long = "meter", value_name = "METER=VALUE", help_heading = FOUND)]
    pub meters: Vec<String>,

    /// A part that was used, with how many or how much, and what they cost: `oil-filter`,
    /// `engine-oil=7.5 L`, `oil-filter=2 for 37 EUR`
    #[arg(long = "part", value_name = "PART[=AMOUNT]", help_heading = FOUND)]
    pub parts: Vec<String>,

    /// What was measured: `oil-pressure=3.8 bar`, or `compression/cylinder 1=27 bar` at one of several
    /// points
    #[arg(long = "reading", value_name = "READING=VALUE", help_heading = FOUND)]
    pub readings: Vec<String>,

    /// What was seen, after its grade, `good`, `watch` or `act`: `watch: weep at the rocker cover`;
    /// `; guide: …`, `; gear: …`, `; before: …` and `; limits-use: …` may follow
    #[arg(long = "finding", value_name = "GRADE: TEXT", help_heading = FOUND)]
    pub findings: Vec<String>,

    /// A finding that this work put right: `2025-11-02-rig-check/1`
    #[arg(long, value_name = "ENTRY/NUMBER", help_heading = FOUND)]
    pub clears: Vec<String>,

    /// Gear that was renewed: `life-raft`, or `life-raft; expires: 2029-05; serial: …`
    #[arg(long, value_name = "GEAR", help_heading = FOUND)]
    pub fitted: Vec<String>,

    /// Notes, in Markdown
    #[arg(long, value_name = "TEXT", help_heading = FOUND)]
    pub note: Option<String>,

    /// Other money that was spent: `crane=240 EUR`
    #[arg(long = "cost", value_name = "WHAT=SUM", help_heading = MORE)]
    pub costs: Vec<String>,

    /// What sort of hand did it
    #[arg(long, value_parser = ["owner", "yard", "licensed"], help_heading = MORE)]
    pub done_by: Option<String>,

    /// Who did it, by name
    #[arg(long, value_name = "NAME", help_heading = MORE)]
    pub by: Vec<String>,

    /// Where it was done
    #[arg(long, value_name = "PLACE", help_heading = MORE)]
    pub place: Option<String>,

    /// A file that proves it, such as an invoice; put it first into the folder of the entry, such as
    /// `log/2026/2026-03-14-haul-out/` (where it is not there, the error names that folder)
    #[arg(long = "paper", value_name = "FILE", help_heading = MORE)]
    pub papers: Vec<String>,

    /// How you know what the entry says
    #[arg(long, value_parser = ["own record", "invoice", "told", "judged"], help_heading = MORE)]
    pub basis: Option<String>,

    /// What was left out of the job
    #[arg(long, value_name = "TEXT", help_heading = MORE)]
    pub except: Vec<String>,

    /// Keep the whole entry out of a public edition
    #[arg(long, help_heading = MORE)]
    pub private: bool,
}

impl EntryOptions {
    /// Nothing is said yet but which jobs: on a terminal the rest is asked for.
    pub fn only_jobs(&self) -> bool {
        let texts = [&self.work, &self.gear, &self.left, &self.meters, &self.parts, &self.readings, &self.findings];
        let more = [&self.clears, &self.fitted, &self.costs, &self.by, &self.papers, &self.except];
        let single =
            [&self.system, &self.date, &self.started, &self.reached, &self.time, &self.note, &self.done_by, &self.place, &self.basis];
        !self.open && !self.private && texts.iter().chain(&more).all(|list| list.is_empty()) && single.iter().all(|one| one.is_none())
    }

    /// Something that a log is kept for.
    pub fn tells_something(&self) -> bool {
        let lists = [&self.jobs, &self.work, &self.meters, &self.parts, &self.findings, &self.clears, &self.fitted, &self.costs];
        lists.iter().any(|list| !list.is_empty()) || self.note.as_ref().is_some_and(|note| !note.trim().is_empty())
    }
}
