/* A shared guide by itself: what this device remembers goes on, now that all parts are there. Last of all scripts. */
(function () {
  "use strict";
  var garboard = window.garboard, sheet = document.getElementById("sheet");
  if (!garboard || !sheet) return;
  var key = "garboard:" + garboard.book + ":work:" + sheet.getAttribute("data-guide");
  garboard.attempt(function () {
    var names = [];
    try { names = Object.keys(localStorage); } catch (refused) { /* nothing is remembered */ }
    if (names.indexOf(key) >= 0) garboard.need("deck", function (deck) { deck.resume(); });
    if (garboard.recall("timers")) garboard.need("timers");
  });
})();
