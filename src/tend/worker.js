/* While the book is being written nothing is kept: what an earlier worker kept at this address goes, and
   this one with it. */
self.addEventListener("install", function () { self.skipWaiting(); });
self.addEventListener("activate", function (event) {
  event.waitUntil(caches.keys().then(function (names) {
    return Promise.all(names.filter(function (name) { return name.indexOf("garboard:") === 0; }).map(function (name) { return caches.delete(name); }));
  }).then(function () {
    return self.registration.unregister();
  }).then(function () {
    return self.clients.matchAll({ type: "window" });
  }).then(function (pages) {
    return Promise.all(pages.map(function (page) { return page.navigate(page.url); }));
  }));
});
