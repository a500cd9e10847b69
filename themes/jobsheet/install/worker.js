/* Keeps the site on the device, so that it opens without a network. Its first line names every file of
   the site with the beginning of its hash: a republish changes that line, the browser notices, and only
   the files that changed are fetched anew. */
"use strict";

var scope = new URL("./", self.location.href).pathname;
var prefix = "garboard:" + scope + ":";
var current = prefix + site.version;
var LIST = "_files";

function mine(names) {
  return names.filter(function (name) { return name.indexOf(prefix) === 0; });
}

/* What an earlier version kept: path to hash and the cache it stands in. */
function earlier() {
  return caches.keys().then(function (names) {
    return Promise.all(mine(names).filter(function (name) { return name !== current; }).map(function (name) {
      return caches.open(name).then(function (cache) {
        return cache.match(scope + LIST).then(function (list) { return list ? list.json() : {}; }).then(function (files) {
          return { cache: cache, files: files };
        });
      });
    }));
  });
}

function keep(path, cache, olds) {
  var at = scope + path;
  var old = olds.filter(function (one) { return one.files[path] === site.files[path]; })[0];
  var found = old ? old.cache.match(at) : Promise.resolve(undefined);
  return found.then(function (hit) {
    return hit || fetch(new Request(at, { cache: "reload" }));
  }).then(function (answer) {
    if (!answer.ok) throw new Error(path + ": " + answer.status);
    return cache.put(at, answer);
  });
}

/* A few at a time: a server aboard is a small one. */
function keepAll(paths, cache, olds, forgiving) {
  var next = 0;
  function one() {
    if (next >= paths.length) return Promise.resolve();
    var path = paths[next];
    next += 1;
    var kept = keep(path, cache, olds);
    return (forgiving ? kept.catch(function () { /* seen again when it is looked at */ }) : kept).then(one);
  }
  return Promise.all([one(), one(), one(), one()]);
}

self.addEventListener("install", function (event) {
  event.waitUntil(Promise.all([caches.open(current), earlier()]).then(function (both) {
    var paths = Object.keys(site.files);
    var pictures = paths.filter(function (path) { return /^(pictures|papers)\//.test(path); });
    var pages = paths.filter(function (path) { return pictures.indexOf(path) < 0; });
    return keepAll(pages, both[0], both[1], false).then(function () {
      return keepAll(pictures, both[0], both[1], true);
    }).then(function () {
      return both[0].put(scope + LIST, new Response(JSON.stringify(site.files)));
    });
  }).then(function () { return self.skipWaiting(); }));
});

self.addEventListener("activate", function (event) {
  event.waitUntil(caches.keys().then(function (names) {
    return Promise.all(mine(names).filter(function (name) { return name !== current; }).map(function (name) { return caches.delete(name); }));
  }).then(function () { return self.clients.claim(); }));
});

self.addEventListener("fetch", function (event) {
  var url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin || url.pathname.indexOf(scope) !== 0) return;
  var path = url.pathname.charAt(url.pathname.length - 1) === "/" ? url.pathname + "index.html" : url.pathname;
  event.respondWith(caches.open(current).then(function (cache) {
    return cache.match(path).then(function (hit) {
      return hit || fetch(event.request).then(function (answer) {
        /* Pictures that were too many to fetch at once are kept when they are seen. */
        if (answer.ok && path.slice(scope.length) in site.later) cache.put(path, answer.clone());
        return answer;
      });
    });
  }));
});
