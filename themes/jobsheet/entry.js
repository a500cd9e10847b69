/* From what was filled in to the text of an entry, ready for the log: front matter and notes. No page
   is touched here. Every text that YAML could take for something else is quoted. */
garboard.part("entry", function (garboard) {
  "use strict";

  /* Plain without quotes: words that begin with a letter, and figures. Neither `: ` nor ` #`, and none
     of the signs that open something, can stand in them. */
  var WORDS = /^[A-Za-z](?:[\w .\/()+-]*[\w.)])?$/;
  var FIGURE = /^[~-]?\d(?:[\w .\/°%·Ω-]*[\w°%Ω])?$/;
  /* Words that some readers of YAML take for truth values or nothing, and the names of no numbers. */
  var TAKEN = /^(?:y|n|yes|no|true|false|on|off|null|nan|inf)$/i;
  /* Control characters, halves of pairs and the two that are no characters. */
  var NO_TEXT = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])/g;

  /* A number or a date, with or without its unit: stands without quotes where it is one. */
  function Figure(text) { this.text = text; }

  function clean(text) {
    var told = String(text === undefined || text === null ? "" : text).replace(NO_TEXT, " ");
    /* A second half whose first is missing; written so because not every browser can look behind. */
    return told.replace(/(^|[^\ud800-\udbff])[\udc00-\udfff]/g, "$1 ");
  }

  /* One line: the format makes all white space one blank anyhow. */
  function line(text) { return clean(text).replace(/[\s\ufeff]+/g, " ").trim(); }

  function scalar(value) {
    var figure = value instanceof Figure;
    var text = line(figure ? value.text : value);
    if ((figure ? FIGURE : WORDS).test(text) && !TAKEN.test(text)) return text;
    return "\"" + text.replace(/["\\]/g, "\\$&") + "\"";
  }

  function flow(value) {
    if (Array.isArray(value)) return "[" + value.map(flow).join(", ") + "]";
    if (!value || typeof value !== "object" || value instanceof Figure) return scalar(value);
    return "{" + Object.keys(value).map(function (key) { return scalar(key) + ": " + flow(value[key]); }).join(", ") + "}";
  }

  /* Empty: nothing would be said. */
  function holds(value) {
    if (Array.isArray(value)) return value.length > 0;
    if (value && typeof value === "object" && !(value instanceof Figure)) return Object.keys(value).length > 0;
    return line(value instanceof Figure ? value.text : value) !== "";
  }

  /* Lists of more than short names stand an item a line. */
  function yaml(map) {
    return Object.keys(map).filter(function (key) { return holds(map[key]); }).map(function (key) {
      var value = map[key];
      var long = Array.isArray(value) && value.some(function (item) { return !/^[a-z0-9\/-]+$/.test(item); });
      if (!long) return scalar(key) + ": " + flow(value) + "\n";
      return scalar(key) + ":\n" + value.map(function (item) { return "  - " + flow(item) + "\n"; }).join("");
    }).join("");
  }

  /* The text of an entry. `record`: the id it is known by, `state`: how many times it was made out so
     far, `keys`: the front matter in its order. */
  function text(record, state, keys, notes) {
    var body = clean(notes).replace(/\r\n?/g, "\n").split("\n").map(function (one) { return one.replace(/\s+$/, ""); });
    var written = body.join("\n").trim();
    return "---\n# record: " + record + " " + state + "\n" + yaml(keys) + "---\n" + (written ? written + "\n" : "");
  }

  /* 20 letters and digits at random: a hundred bits. */
  function recordId() {
    var letters = "abcdefghijklmnopqrstuvwxyz234567";
    var bytes = new Array(20);
    if (window.crypto && crypto.getRandomValues) bytes = crypto.getRandomValues(new Uint8Array(20));
    else for (var at = 0; at < 20; at += 1) bytes[at] = Math.floor(Math.random() * 256);
    return Array.prototype.map.call(bytes, function (byte) { return letters[byte & 31]; }).join("");
  }

  /* The number of a field: a comma is a point, a true minus is a hyphen. Null: no number. */
  function number(text) {
    var plain = line(text).replace(/,/g, ".").replace(/[−–]/g, "-");
    return /^-?\d{1,12}(?:\.\d{1,6})?$/.test(plain) ? plain : null;
  }

  /* An amount: a number, and its unit where it is measured. Null: none. */
  function amount(text, unit) {
    var found = /^(\d{1,9}(?:[.,]\d{1,6})?)\s*([A-Za-zµ·² ]{0,12})$/.exec(line(text));
    if (!found) return null;
    var after = found[2].trim() || unit || "";
    return found[1].replace(",", ".") + (after ? " " + after : "");
  }

  function day(date) {
    var two = function (n) { return ("0" + n).slice(-2); };
    return date.getFullYear() + "-" + two(date.getMonth() + 1) + "-" + two(date.getDate());
  }

  /* Today by the clock of the device; empty while it stands before the page, and so is wrong. */
  function today() {
    var published = garboard.dayNumber(document.documentElement.getAttribute("data-published") || "none");
    return garboard.dayNumber() < published - 1 ? "" : day(new Date());
  }

  /* A day that there is, as year-month-day; in no zone, for some have skipped one. */
  function isDay(text) {
    var number = garboard.dayNumber(text || "none");
    return !isNaN(number) && new Date(number * 864e5).toISOString().slice(0, 10) === text;
  }

  /* `2 h 40 min`. */
  function duration(minutes) {
    var whole = Math.round(minutes);
    if (!(whole > 0)) return "";
    var hours = Math.floor(whole / 60);
    return [hours && hours + " h", whole % 60 && whole % 60 + " min"].filter(Boolean).join(" ");
  }

  /* As the program makes ids of Latin words; what is left for a file's name. */
  function idOf(words) {
    var plain = line(words).toLowerCase();
    if (plain.normalize) plain = plain.normalize("NFKD");
    return plain.replace(/ß/g, "ss").replace(/[\u0300-\u036f]/g, "").replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 60).replace(/-$/, "");
  }

  return {
    Figure: Figure, yaml: yaml, text: text, line: line, recordId: recordId, number: number, amount: amount,
    today: today, isDay: isDay, duration: duration, idOf: idOf
  };
});
