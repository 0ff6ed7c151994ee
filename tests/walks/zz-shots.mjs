import { launch, open, serve, waitForAnswers, waitFor, press } from "./support.mjs";
const server = await serve(); const chromium = await launch();
const out = "/tmp/shots-coach/";
async function go(name, viewport, media = {}, act = async () => {}) {
  const context = await chromium.browser.createBrowserContext();
  const page = await open(context, server.url, async (p) => { await p.setViewport(viewport); await p.emulateMediaFeatures([{name:"prefers-color-scheme", value: media.dark ? "dark":"light"},{name:"prefers-reduced-motion", value: media.still?"reduce":"no-preference"}]); });
  await waitForAnswers(page);
  await page.$eval("#lessons", (v) => (v.open = true));
  await page.waitForFunction(() => document.querySelector("#lesson-choice option"));
  await new Promise((r) => setTimeout(r, 300));
  await act(page, name);
  if (page.complaints.length) console.log(name, page.complaints);
  await page.close();
}
const shot = (page, name) => page.screenshot({ path: `${out}${name}.png` });
const steps = async (page, name) => {
  await page.click("#lesson-show");
  for (let i = 1; i <= 6; i++) { for (let k = 0; k < 20; k++) await press(page, "ArrowUp"); await new Promise((r) => setTimeout(r, 150)); await shot(page, `${name}-${i}`); await press(page, "PageDown"); }
};
const quiz = async (page, name) => {
  await page.click("#lesson-quiz"); await new Promise((r) => setTimeout(r, 200)); await shot(page, name + "-a"); await press(page, "2"); await new Promise((r) => setTimeout(r, 3600)); await shot(page, name + "-b");
};
const desk = async (page, name) => {
  await page.click("#lesson-copy"); await page.click("#lesson-steps [data-act=change]"); await new Promise((r) => setTimeout(r, 300));
  const el = await page.$("#coach"); await el.screenshot({ path: `${out}${name}.png` });
};
const which = process.argv[2] ?? "all";
if (which === "all" || which === "p") await go("xga", { width: 1024, height: 768 }, {}, steps);
if (which === "all" || which === "q") await go("xga-quiz", { width: 1024, height: 768 }, {}, quiz);
if (which === "all" || which === "d") await go("dark", { width: 1024, height: 768 }, { dark: true }, steps);
if (which === "all" || which === "m") { await go("phone", { width: 390, height: 844 }, {}, steps); await go("phone-quiz", { width: 390, height: 844 }, {}, quiz); }
if (which === "all" || which === "k") { await go("desk", { width: 1280, height: 900 }, {}, desk); await go("desk-phone", { width: 390, height: 844 }, { dark: true }, desk); }
if (which === "all" || which === "h") await go("hd", { width: 1920, height: 1080 }, {}, steps);
await chromium.stop(); await server.stop();
