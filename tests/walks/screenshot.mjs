// Writes the README's picture of the page, from the built site.

import { launch, open, project, serve, waitForAnswers } from "./support.mjs";

const server = await serve();
const chromium = await launch();
const page = await open(chromium.browser, server.url, (fresh) => fresh.setViewport({ width: 1280, height: 900 }));
await waitForAnswers(page);
await page.screenshot({ path: `${project}/tests/screenshot.png` });
await chromium.stop();
await server.stop();
