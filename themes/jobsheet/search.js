/* Search. The index is classic scripts in assets/search/, each loaded when it is first needed and handing
   itself to window.garboardSearch. In a page that holds everything, garboardSearch is an object that has
   them by name before this script runs. What the files hold is told in src/site/search/. */
garboard.part("search", g => {
  "use strict";

  /* One search loads at most this many files of words, and as many of texts; none is over 18 KB. */
  const MOST = 8;
  const WEIGHTS = [10, 5, 2, 1];
  const UNITS = " nm lbfft lbfin kgfm l ml gal qt pt mm cm m in ft nmi km mi kn g kg oz lb bar kpa psi c f s min h lmin lh rpm v a ah w kw hp ω ";
  const SPELLINGS = { lbft: "lbfft", ftlb: "lbfft", ftlbf: "lbfft", lbin: "lbfin", inlb: "lbfin", inlbf: "lbfin" };
  const LETTERS = { ß: "ss", æ: "ae", œ: "oe", þ: "th", ø: "o", đ: "d", ð: "d", ł: "l", ħ: "h", ŧ: "t", ı: "i", ς: "σ" };
  const JOINS = "-\u2010–.,/\u2044*·⋅∙•_×";
  const ALONE = /[\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\u{20000}-\u{3ffff}]/u;
  const IN_WORD = /[\p{Alphabetic}\p{N}]/u;

  const fold = letter => letter < "\x80" ? letter.toLowerCase() : letter.toLowerCase().normalize("NFKD").toLowerCase()
    .normalize("NFKD").replace(/\p{M}/gu, "").replace(/[ßæœþøđðłħŧıς]/g, found => LETTERS[found]);

  /* The words of a text with the places where they stand, as src/site/search/terms.rs finds them;
     `whole`: made of several parts that are words as well. */
  function scan(text, take) {
    let word = "", parts = [], joint = "", number = "", begun = 0, ended = 0, at = 0;
    const send = (found, from, to, whole) => take(Array.from(found).slice(0, 32).join(""), from, to, whole);
    function endNumber() {
      if (number) send(number, begun, ended);
      number = "";
    }
    function endWord() {
      const broken = joint;
      joint = "";
      if (!word) return;
      const figures = /^[0-9.]*/.exec(word)[0].length, rest = word.slice(figures);
      const from = parts[0].from, to = parts[parts.length - 1].to;
      const unit = SPELLINGS[rest] || (rest && UNITS.includes(" " + rest + " ") ? rest : "");
      if (unit && parts.every((part, n) => !n || part.at >= figures)) {
        if (figures) endNumber();
        if (!number) begun = from;
        number += word.slice(0, figures) + unit;
        ended = to;
        endNumber();
      } else {
        endNumber();
        if (!rest && !parts[1]) [number, begun, ended] = [word, from, to];
        else {
          parts.forEach((part, n) => send(word.slice(part.at, parts[n + 1] ? parts[n + 1].at : word.length), part.from, part.to));
          if (parts[1]) send(word, from, to, true);
        }
      }
      word = "";
      if (broken) endNumber();
    }
    for (const letter of text) {
      const next = at + letter.length;
      for (const one of fold(letter)) {
        if (ALONE.test(one)) {
          endWord();
          endNumber();
          take(one, at, next);
        } else if (IN_WORD.test(one)) {
          if (joint === "×") word += "x";
          else if (/[.,]/.test(joint) && /[0-9]$/.test(word) && /[0-9]/.test(one)) word += ".";
          else if (joint === ",") endWord();
          else if (joint) parts.push({ at: word.length, from: at });
          joint = "";
          if (!word) parts = [{ at: 0, from: at }];
          word += one;
          parts[parts.length - 1].to = next;
        } else if (JOINS.includes(one) && word && !joint) joint = one;
        else {
          endWord();
          if (!/\s/.test(one) && one !== "°") endNumber();
        }
      }
      at = next;
    }
    endWord();
    endNumber();
  }

  /* --- Files ------------------------------------------------------------------------------------ */

  const given = window.garboardSearch && typeof window.garboardSearch === "object" ? window.garboardSearch : {};
  const files = {}, got = {};
  window.garboardSearch = (name, matter) => { got[name] = matter; };

  function load(name) {
    return files[name] = files[name] || new Promise((done, failed) => {
      if (name in given) return done(given[name]);
      if (g.root === null) return failed(name);
      const tag = document.createElement("script");
      tag.src = g.root + "assets/search/" + name + ".js";
      tag.onload = () => name in got ? done(got[name]) : failed(name);
      tag.onerror = () => {
        delete files[name];
        failed(name);
      };
      document.head.appendChild(tag);
    });
  }

  const nameOf = (letter, start) => letter + "-" + start.replace(/[^a-z0-9]/g, unit => "_" + unit.charCodeAt(0).toString(16));

  /* Files that can hold `word` or what begins with it: where these are many, only the first. */
  function holders(letter, starts, word) {
    let at = starts.length - 1;
    while (at >= 0 && starts[at] > word) at -= 1;
    const found = at < 0 ? [] : [starts[at]];
    if (word.length > 1) while (starts[++at] !== undefined && starts[at].startsWith(word)) found.push(starts[at]);
    return (found.length > 3 ? found.slice(0, 1) : found).map(start => nameOf(letter, start));
  }

  const lines = matter => matter.split("|").map(line => line.split(" "));

  /* Notes in `into` how well each document of the lists has the word; gives the true count of cut lists. */
  function read(lists, quality, markers, into) {
    let at = 0;
    const digit = () => "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_".indexOf(lists[at]);
    const more = () => at < lists.length && digit() >= 0;
    function number() {
      let sum = 0, times = 1, value;
      do {
        value = digit();
        at += 1;
        sum += (value & 31) * times;
        times *= 32;
      } while (value > 31);
      return sum;
    }
    while (at < lists.length) {
      const list = markers.indexOf(lists[at++]);
      if (list < 0) return number();
      const score = quality * WEIGHTS[list % 4];
      const note = n => {
        const key = (list >> 2) * 0x4000000 + n;
        if (!(into.get(key) >= score)) into.set(key, score);
      };
      if (lists[at] === "=") {
        at += 1;
        for (let n = number(); more(); at += 1, n += 6) for (let bit = 0; bit < 6; bit += 1) if (digit() >> bit & 1) note(n + bit);
      } else for (let n = 0; more(); n += 1) note(n += number());
    }
    return 0;
  }

  /* Changes of one letter, two neighbours swapped among them, that make `b`, or one that begins so, of `a`. */
  function distance(a, b) {
    let last = [], row = Array.from({ length: b.length + 1 }, (_, n) => n);
    for (let i = 1; i <= a.length; i += 1) {
      const before = last;
      last = row;
      row = [i];
      for (let j = 1; j <= b.length; j += 1) {
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) row[j] = Math.min(row[j], before[j - 2] + 1);
      }
    }
    return Math.min(row[b.length], Math.min.apply(null, row) + 0.5);
  }

  /* --- Finding ---------------------------------------------------------------------------------- */

  /* Gives the documents that have all words, or else most of them, best first. */
  async function find(text) {
    const index = await load("index");
    const words = [];
    scan(text, (word, from, to, whole) => {
      if (!words.some(other => other.word === word)) words.push({ word, whole, near: new Set(), found: new Map() });
    });
    words.sort((a, b) => !!a.whole - !!b.whole).splice(6);
    const used = new Set();
    const open = async names => {
      names.forEach(name => { if (used.size < MOST) used.add(name); });
      const matters = await Promise.all(names.filter(name => used.has(name)).map(load));
      return [].concat(...matters.map(lines));
    };
    const gather = (one, all) => all.forEach(([term, lists]) => {
      const quality = term === one.word ? 1 : one.near.has(term) ? 0.8 : one.word.length > 1 && term.startsWith(one.word) ? 0.7 : 0;
      if (quality) one.cut = Math.max(one.cut || 0, read(lists, quality, index.markers, one.found));
    });
    const held = words.map(one => holders("t", index.terms, one.word));
    /* First what each word needs, then what only begins with it. */
    await open([].concat(...held.map(names => names.slice(0, 1))));
    const meant = [];
    for (const [n, one] of words.entries()) {
      const all = await open(held[n]);
      const shorter = /^(.{4,}?)(e?[sn])$/.exec(one.word);
      if (shorter) one.near.add(shorter[1]).add(one.word.slice(0, -1));
      gather(one, all);
      if (one.found.size || one.whole || !/^\p{Alphabetic}{4,}$/u.test(one.word)) continue;
      /* A typing error: among those that begin alike, and those that end alike. */
      const tails = await open(holders("v", index.tails, Array.from(one.word).reverse().join("")).slice(0, 1));
      const most = one.word.length > 6 ? 2.5 : 1.5;
      const near = all.concat(tails.map(([tail]) => [tail]))
        .filter(([term]) => Math.abs(term.length - one.word.length) < 3 || term.length > one.word.length)
        .map(([term]) => [distance(one.word, term), term]).filter(([far]) => far <= most).sort();
      near.forEach(([far, term]) => { if (far === near[0][0] && one.near.size < 8) one.near.add(term); });
      for (const term of one.near) gather(one, await open(holders("t", index.terms, term).slice(0, 1)));
      if (one.found.size) meant.push({ word: one.word, words: near.map(([, term]) => term).filter(term => one.near.has(term)) });
    }
    const total = index.shelves.reduce((sum, shelf) => sum + shelf[2], 0);
    const hits = new Map();
    /* A word whose lists were cut asks for nothing where there are others: it may stand in any document. */
    const asking = words.filter(one => !one.whole && !one.cut);
    for (const one of words) {
      const rare = Math.log(1 + total / (one.cut || one.found.size || 1));
      const asks = asking.length ? asking.includes(one) : true;
      one.found.forEach((score, key) => {
        const hit = hits.get(key) || { key, words: 0, score: 0 };
        if (asks) hit.words += 1;
        hit.score += score * rare;
        hits.set(key, hit);
      });
    }
    const most = Math.max(0, ...Array.from(hits.values(), hit => hit.words));
    const shelf = hit => Math.floor(hit.key / 0x4000000);
    const list = Array.from(hits.values()).filter(hit => hit.words === most).sort((a, b) =>
      b.score - a.score || shelf(a) - shelf(b) || (shelf(a) === 2 ? b.key - a.key : a.key - b.key));
    return { words, meant, list, index, cut: words.length === 1 && words[0].cut > list.length, all: most >= asking.length };
  }
  return { scan, find };
});
