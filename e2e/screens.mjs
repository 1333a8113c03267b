// Pictures of every page into docs/screens: narrow and wide, light and dark. Run after a change of the look: node e2e/screens.mjs
import { mkdirSync } from "node:fs";
import { startBrowser, startDemo } from "./demo.mjs";
import { pages } from "./pages.mjs";

const folder = new URL("../docs/screens/", import.meta.url);
mkdirSync(folder, { recursive: true });
const demo = await startDemo();
const browser = await startBrowser();
const only = process.argv[2];
for (const { name, path } of pages.filter((page) => !only || page.name === only)) {
  for (const width of [390, 1280]) {
    for (const colorScheme of ["light", "dark"]) {
      const context = await browser.newContext({ viewport: { width, height: width === 390 ? 844 : 900 }, colorScheme });
      const page = await context.newPage();
      await page.goto(demo.address + path);
      await page.evaluate(() => document.fonts.ready);
      const file = new URL(`${name}-${width}-${colorScheme}.png`, folder).pathname;
      await page.screenshot({ path: file, fullPage: true, clip: await clip(page, width) });
      await context.close();
    }
  }
}
await browser.close();
demo.stop();

/** The whole page, but not more than three windows of it: a picture is for looking at. */
async function clip(page, width) {
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  return { x: 0, y: 0, width, height: Math.min(height, width === 390 ? 2600 : 2200) };
}
