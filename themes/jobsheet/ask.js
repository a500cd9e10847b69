/* What the working mode asks in between: which gear, a finding, how the boat is left, the end of the job.
   A question takes the place of the sheet; the answers are large, and none is given by a slip. */
garboard.part("ask", (garboard) => (job, deck) => {
  "use strict";
  const { say, make } = garboard;
  const { button, el, panel } = deck;

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
      one.title + (job.read(one.id) ? " – " + say("deck.begun") : ""), () => deck.start(one.id), "main",
    ))).concat(put(button(say("deck.leave"), deck.stopped))));
  }

  function finding() {
    const { area, label } = writing(say("deck.finding-what"), "", 3);
    const radios = job.grades.map((grade) => el("input", [], { type: "radio", name: "_grade", value: grade, checked: grade === "watch" }));
    const choices = radios.map((radio) => el("label", [radio, " " + say("deck.grade-" + radio.value)], { className: "choice" }));
    ask(say("deck.finding"), [label, el("fieldset", [make("legend", say("deck.grade"))].concat(choices)), put(button(say("deck.finding-keep"), () => {
      const what = area.value.trim();
      if (!what) return area.focus();
      job.find(what, radios.find((one) => one.checked).value);
      onward();
      deck.tell(say("deck.finding-kept"));
    }, "main"), goOn("deck.cancel"))]);
    area.focus();
  }

  const findings = () => listed(job.work.findings.map((one) => [
    one.what + " – " + say("deck.grade-" + one.grade) + " ", button(say("deck.drop"), () => { job.unfind(one); deck.show(); }),
  ]));

  const safeStop = (step) => step && step.words.querySelector(".safestop");

  function breakOff() {
    const at = job.spot();
    const safe = safeStop(job.steps[at]);
    const next = job.steps.find((one) => one.at >= at && !job.ticked(one) && safeStop(one));
    const { area, label } = writing(say("deck.left"), job.open().map((mark) => say("deck.left-line", { what: mark.what })).join("\n"), 4);
    const why = safe ? say("deck.stop-safe") : say("deck.stop-unsafe") + (next ? " " + say("deck.stop-next", { step: job.nameStep(next) }) : "");
    ask(say("deck.stop"), [
      el("p", [why], { className: safe ? "" : "warned" }), label, el("p", [say("deck.left-note")], { className: "aside" }),
      put(button(say("deck.stop-enter"), () => hand(false, toLines(area.value)), "main"), goOn()),
      put(button(say("deck.stop-keep"), () => { deck.pause(); deck.stopped(); }), button(say("deck.forget"), forget)),
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
      label, put(button(say("deck.finish"), finish, "main")),
    ]);
  }

  function finish() {
    const shut = job.open().filter((mark) => !mark.stays);
    if (!shut.length) return hand(true, []);
    const back = job.marks.find((mark) => !mark.shuts && mark.key === shut[0].key && !job.ticked(mark.step));
    ask(say("deck.open"), [
      listed(shut.map((mark) => mark.what)), el("p", [say("deck.open-ask")], { className: "warned" }),
      put(back ? button(say("deck.open-go", { step: job.nameStep(back.step) }), () => deck.go(back.step.at), "main") : goOn()),
      put(button(say("deck.finish-anyway"), () => hand(true, shut.map((mark) => say("deck.left-line", { what: mark.what }))))),
    ]);
  }

  /* To the part that makes the entry; until it has kept it, nothing here is forgotten. */
  function hand(finished, left) {
    const draft = job.draft(finished, left);
    garboard.need("record", (record) => {
      deck.pause(finished);
      deck.stopped();
      record.open(draft);
    }, () => ask(say("part-missing"), [make("p", say("deck.still-kept")), put(goOn())]));
  }

  return { gear, finding, breakOff, changed, end };
});
