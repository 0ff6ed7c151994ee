// What Lighthouse says of the page on a phone, a score a line.
//
//     node run.mjs [CATEGORY=LEAST...]     fails where a score is below the least that is asked of it

import lighthouse from "lighthouse";
import { launch, serve } from "../walks/support.mjs";

const asked = Object.fromEntries(process.argv.slice(2).map((word) => word.split("=")));
const server = await serve();
server.headers["content-encoding"] = "gzip"; // as every host of static pages sends text and wasm
const chromium = await launch();
const port = Number(new URL(chromium.browser.wsEndpoint()).port);
const { lhr } = await lighthouse(server.url, { port, logLevel: "error", onlyCategories: Object.keys(asked) });
await chromium.stop();
await server.stop();

const below = (audit) => audit.weight > 0 && (lhr.audits[audit.id].score ?? 1) < 1;
for (const [id, { score, auditRefs }] of Object.entries(lhr.categories)) {
  const points = Math.round(score * 100);
  const lost = auditRefs.filter(below).map((audit) => `${audit.id} ${lhr.audits[audit.id].displayValue ?? ""}`.trim());
  console.log(`${id} ${points} of 100, at least ${asked[id]}${lost.length ? `; lost on ${lost.join(", ")}` : ""}`);
  if (points < Number(asked[id])) process.exitCode = 1;
}
