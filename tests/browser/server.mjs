// A plain web server on this machine for the pages of a folder, under a sub-folder of its own.
import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { extname, join, normalize } from "node:path";

const KINDS = {
  ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml", ".png": "image/png",
  ".jpg": "image/jpeg", ".webp": "image/webp", ".json": "application/json", ".webmanifest": "application/manifest+json",
};

/** Serves `folder` at `http://127.0.0.1:PORT/BELOW/`; `asked` lists the paths that were asked for. */
export async function serve(folder, below = "boats/ours") {
  const asked = [];
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url, "http://x").pathname);
    asked.push(path);
    const inside = path.startsWith(`/${below}/`) ? normalize(path.slice(below.length + 2)) : "..";
    if (inside.startsWith("..")) return response.writeHead(404).end("not here");
    const file = join(folder, inside === "." || inside.endsWith("/") ? join(inside, "index.html") : inside);
    try {
      const bytes = await readFile(file);
      response.writeHead(200, { "content-type": KINDS[extname(file)] ?? "application/octet-stream", "cache-control": "no-store" }).end(bytes);
    } catch {
      response.writeHead(404).end("not here");
    }
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
  const { port } = server.address();
  const url = (page) => `http://127.0.0.1:${port}/${below}/${page}`;
  const close = () => new Promise((closed) => { server.closeAllConnections(); server.close(closed); });
  return { url, asked, close };
}
