/* A job that the log has open, as this sheet shows it: the stage to go on from, how the boat was left, and
   which stages are behind it by the rules of the sheet. `null` where the log has none, or this device has
   ticks of its own. */
garboard.part("again", () => (job) => {
  "use strict";
  const placeOf = (link) => link.getAttribute("data-to") || decodeURIComponent((link.hash || "").slice(1));
  const stages = Array.from(new Set(job.steps.map((step) => step.stage)));
  const named = (kind, stage) => job.all(".stagehead " + kind + " :is(a, [data-to])", stage).map((link) => stages.find((one) => one.id === placeOf(link))).filter(Boolean);

  /* The stages that a stage waits for. One alongside another waits for what that waits for, and not for it. */
  function waits(stage, found) {
    const hosts = named(".alongside", stage);
    const after = named(".aside:not(.alongside)", stage);
    const first = after.length || hosts.length ? after : stages.slice(0, stages.indexOf(stage));
    first.filter((one) => !found.has(one)).forEach((one) => { found.add(one); waits(one, found); });
    hosts.filter((one) => one !== stage).forEach((one) => { if (!found.has(one)) waits(one, found); });
    return found;
  }

  function open() {
    const all = job.all(".standing");
    const own = job.gears.length ? all.filter((one) => one.querySelector("h3"))[job.gears.findIndex((one) => one.id === job.gear)] : all[0];
    return own ? job.all(".openmark", own) : [];
  }

  const left = () => open().reduce((lines, mark) => lines.concat(job.all(".left > li", mark).map(job.plain)), []);

  return Object.assign(() => {
    const marks = open();
    if (!marks.length || job.undone().length < job.steps.length) return null;
    const places = marks.reduce((found, mark) => found.concat(job.all("p :is(a, [data-to])", mark).map(placeOf)), []);
    const step = places.map((place) => job.steps.find((one) => one.stage.id === place)).filter(Boolean)[0] || null;
    const behind = step ? waits(step.stage, new Set()) : new Set();
    behind.delete(step && step.stage);
    return {
      step, lines: marks.map((mark) => job.plain(mark.querySelector("p"))), left: job.work.carried, before: stages.filter((one) => behind.has(one)),
      goOn: (go) => {
        job.steps.filter((one) => behind.has(one.stage) && !job.ticked(one)).forEach((one) => job.tick(one, true));
        go(step.at);
      },
    };
  }, { left });
});
