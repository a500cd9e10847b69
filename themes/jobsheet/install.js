/* Makes the site one that can be installed and opened without a network. Only where a server hands it
   out over https, or on this very machine: browsers allow it nowhere else. */
garboard.part("install", function (garboard) {
  "use strict";

  var link = document.createElement("link");
  link.rel = "manifest";
  link.href = garboard.root + "site.webmanifest";
  document.head.appendChild(link);

  if (!navigator.serviceWorker) return;
  var had = navigator.serviceWorker.controller;
  navigator.serviceWorker.addEventListener("controllerchange", function () {
    if (!had) { had = true; return; }
    /* A newer edition has come in: whoever reads decides when to turn to it. */
    var bar = document.createElement("p");
    bar.className = "renewed";
    bar.setAttribute("role", "status");
    bar.appendChild(document.createTextNode(garboard.say("install.renewed") + " "));
    var button = document.createElement("button");
    button.type = "button";
    button.textContent = garboard.say("install.reload");
    button.addEventListener("click", function () { location.reload(); });
    bar.appendChild(button);
    document.querySelector("main").insertBefore(bar, document.querySelector("main").firstChild);
  });
  navigator.serviceWorker.register(garboard.root + "sw.js").catch(function () { /* the pages work as they are */ });
});
