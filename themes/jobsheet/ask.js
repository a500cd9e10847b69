/* What the working mode asks in between: which gear, a finding, how the boat is left, the end of the job.
   A question takes the place of the sheet; the answers are large, and none is given by a slip. */
garboard.part("ask", (garboard) => (job, deck, again) => {
  "use strict";
  const { say, make } = garboard;
  const { button, el, panel } = deck;
  /* A file of another boat: it knows no log, and makes no entry. */
  const lent = document.documentElement.hasAttribute("data-lent");

  function fill(heading, parts) {
    const head = el("h2", [heading], { tabIndex: -1 });
    panel.replaceChildren(head, ...parts);
    panel.setAttribute("aria-label", heading);
    panel.hidden = false;
    return head;
  }
  function ask(heading, parts) {
    deck.asking = true;
    const head = fill(heading, parts);
    deck.show();
    scrollTo({ top: 0, behavior: "instant" });
    head.focus({ preventScroll: true });
  }
  function onward() {
    deck.asking = false;
    deck.show(true);
  }
  /* Before the first step, of a job that the log has open: where to go on, and how the boat was left. */
  function start() {
    const log = again();
    if (log) fill(say("deck.log-open"), [
      ...log.lines.map((line) => el("p", [line], { dir: "auto" })),
      log.step ? put(button(say("deck.go-on-from", { stage: job.stageTitle(log.step.stage) }), () => log.goOn(deck.go), "main")) : "",
      log.step && log.before.length ? el("p", [say("deck.log-before", { stages: log.before.map(job.stageTitle).join(", ") })], { className: "aside" }) : "",
      log.left.length ? el("p", [say("deck.open")], { className: "label" }) : "", listed(log.left),
    ]);
    return !!log;
  }

  const put = (...buttons) => el("p", buttons, { className: "answers" });
  const goOn = (key) => button(say(key || "deck.go-on"), onward);
  const listed = (parts) => el("ul", parts.map((part) => el("li", [].concat(part), { dir: "auto" })), { className: "plain" });
  function writing(label, value, rows) {
    const area = el("textarea", [], { value, rows, dir: "auto" });
    return { area, label: el("label", [make("span", label), area], { className: "writing" }) };
  }
  const toLines = (text) => text.split("\n").map((line) => line.trim()).filter(Boolean);

  function gear() {
    ask(say("deck.which"), job.gears.map((one) => put(button(
      one.title + (job.read(one.id) ? " – " + say("deck.begun") : ""), () => deck.start(one.id, true), "main",
    ))).concat(put(button(say("deck.leave"), deck.stopped))));
  }

  function finding() {
    const { area, label } = writing(say("deck.finding-what"), "", 3);
    const radios = job.grades.map((grade) => el("input", [], { type: "radio", name: "_grade", value: grade, checked: grade === "watch" }));
    const choices = radios.map((radio) => el("label", [radio, " " + say("deck.grade-" + radio.value)], { className: "choice" }));
    const missing = Object.assign(deck.status("p"), { className: "warned" });
    ask(say("deck.finding"), [label, missing, el("fieldset", [make("legend", say("deck.grade"))].concat(choices)), put(button(say("deck.finding-keep"), () => {
      const what = area.value.trim();
      if (!what) {
        deck.set(missing, say("deck.finding-empty"));
        return area.focus();
      }
      job.find(what, radios.find((one) => one.checked).value);
      onward();
      deck.noted(say("deck.finding-kept", { what }));
    }, "main"), goOn("deck.cancel"))]);
    area.focus();
  }

  const listOfLeft = () => listed(job.open().filter((mark) => !mark.stays).map((mark) => mark.what).concat(job.work.carried.map((line) => [
    line + " – ", button(say("deck.is-back"), () => { job.carry(job.work.carried.filter((one) => one !== line)); finish(); }),
  ])));

  const findings = () => listed(job.work.findings.map((one) => [
    one.what + " – " + say("deck.grade-" + one.grade) + " ", button(say("deck.drop"), () => { job.unfind(one); deck.show(); }),
  ]));

  const safeStop = (step) => !!step && !!step.words.querySelector(".safestop");
  const tickedAt = (step) => (job.ticked(step) ? job.work.ticks[step.id] : 0);

  /* Something of this step is begun: a figure read since the last tick, or a timer that runs. */
  function begun(step, since) {
    const timers = garboard.made.timers;
    return job.all("[data-read]", step.words).some((mark) => Object.keys(job.work.stamps).some((key) =>
      (key + "\n").startsWith("reading\n" + mark.getAttribute("data-read") + "\n") && job.work.stamps[key] > since))
      || (!!timers && job.all("[data-cycle]", step.words).some((mark, at) => timers.state(job.name.slice(5) + "#" + step.id + ":" + at)));
  }

  /* Whether the job may be broken off as it stands: judged by what is done, not by the step on the screen. */
  function safe() {
    const done = job.steps.filter(job.ticked);
    const last = done.reduce((late, one) => (late && tickedAt(late) >= tickedAt(one) ? late : one), null);
    const step = job.steps[job.spot()];
    if (!safeStop(last) || (step && !job.ticked(step) && begun(step, tickedAt(last)))) return false;
    /* A stage left half-way elsewhere has a safe stop of its own to be at. */
    const stages = new Set(done.map((one) => one.stage));
    return Array.from(stages).every((stage) => {
      const own = job.steps.filter((one) => one.stage === stage);
      return own.every(job.ticked) || safeStop(own.filter(job.ticked).pop());
    });
  }

  function breakOff() {
    const at = job.spot();
    const stop = safe();
    const next = job.steps.find((one) => one.at >= at && !job.ticked(one) && safeStop(one));
    const marked = job.open().map((mark) => say("deck.left-line", { what: mark.what }));
    const { area, label } = writing(say("deck.left"), marked.concat(job.work.carried).join("\n"), 4);
    const why = stop ? say("deck.stop-safe") : say("deck.stop-unsafe") + (next ? " " + say("deck.stop-next", { step: job.nameStep(next) }) : "");
    const lines = () => {
      const found = toLines(area.value);
      job.carry(found.filter((line) => !marked.includes(line)));
      return found;
    };
    ask(say("deck.stop"), [
      el("p", [why], { className: stop ? "" : "warned" }), label, lent ? "" : el("p", [say("deck.left-note")], { className: "aside" }),
      put(lent ? "" : button(say("deck.stop-enter"), () => hand(false, lines()), "main"), goOn()),
      put(button(say(lent ? "deck.stop-here" : "deck.stop-keep"), () => { lines(); deck.pause(); deck.stopped(); }), button(say("deck.forget"), forget)),
      el("p", [say("deck.stop-keep-note")], { className: "aside" }),
    ]);
  }

  function forget() {
    ask(say("deck.forget"), [make("p", say("deck.forget-note")), put(goOn(), button(say("deck.forget-yes"), job.forget))]);
  }

  /* The sheet has been revised since the work began. `lost`: ids of steps whose ticks are gone. */
  function changed(lost) {
    const again = lost.map((id) => job.byId.get(id)).filter(Boolean);
    ask(say("deck.changed"), [
      make("p", say("deck.changed-kept", { n: job.steps.filter(job.ticked).length })),
      lost.length ? make("p", say("deck.changed-lost", { n: lost.length })) : "",
      listed(again.map(job.nameStep)), put(goOn()),
    ]);
  }

  function end() {
    const missing = job.undone();
    const unread = job.fields.filter((field) => !job.written(field));
    const { area, label } = writing(say("deck.notes"), job.work.notes, 3);
    area.addEventListener("input", () => job.note(area.value));
    fill(say("deck.end"), [
      make("p", missing.length ? say("deck.unticked", { n: missing.length }) : say("deck.all-ticked")),
      listed(missing.map((step) => el("a", [job.nameStep(step)], { href: "#" + step.id }))),
      unread.length ? make("p", say("deck.unread") + " " + unread.map((field) => field.name).join(", ")) : "",
      job.work.findings.length ? el("div", [make("p", say("deck.findings")), findings()]) : "",
      label, put(button(say(lent ? "deck.lent-finish" : "deck.finish"), finish, "main")),
    ]);
  }

  /* A finished entry cannot say how the boat is left: what is still off keeps the job open, or becomes a finding. */
  function finish() {
    const shut = job.open().filter((mark) => !mark.stays);
    const lines = shut.map((mark) => say("deck.left-line", { what: mark.what })).concat(job.work.carried);
    if (!lines.length) return hand(true, []);
    const back = shut.length && job.marks.find((mark) => !mark.shuts && mark.key === shut[0].key && !job.ticked(mark.step));
    ask(say("deck.open"), [
      listOfLeft(), el("p", [say("deck.open-ask")], { className: "warned" }),
      put(back ? button(say("deck.open-go", { step: job.nameStep(back.step) }), () => deck.go(back.step.at), "main") : goOn()),
      ...(lent ? [] : [put(button(say("deck.not-finished"), () => hand(false, lines), "main")), el("p", [say("deck.open-found")], { className: "aside" })]),
      put(button(say("deck.finish-anyway"), () => hand(true, lines))),
    ]);
  }

  /* To the part that makes the entry; until it has kept it, nothing here is forgotten. */
  function hand(finished, left) {
    if (lent) return ask(say("deck.lent"), [make("p", say("deck.lent-note")), put(goOn(), button(say("deck.forget-yes"), job.forget))]);
    const draft = job.draft(finished, left);
    garboard.need("record", (record) => {
      deck.pause(finished);
      deck.stopped();
      record.open(draft);
    }, () => ask(say("part-missing"), [make("p", say("deck.still-kept")), put(goOn())]));
  }

  return { gear, start, finding, breakOff, safe, changed, end };
});
