// axe-core finds nothing on any page, narrow and wide, light and dark; no page is wider than its window.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { journey, startBrowser, startDemo } from "../demo.mjs";
import { pages } from "../pages.mjs";

const axe = readFileSync(new URL("../node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
let demo;
let browser;
before(async () => {
  demo = await startDemo();
  browser = await startBrowser();
});
after(async () => {
  await browser?.close();
  demo?.stop();
});

for (const { name, path } of pages) {
  for (const width of [390, 1280]) {
    for (const colorScheme of ["light", "dark"]) {
      test(`${name} at ${width} px, ${colorScheme}`, () =>
        journey(browser, `axe-${name}-${width}-${colorScheme}`, { viewport: { width, height: 900 }, colorScheme, bypassCSP: true }, async (page) => {
          const answer = await page.goto(demo.address + path);
          assert.equal(answer.status(), 200);
          await page.evaluate(axe);
          const found = await page.evaluate(() => globalThis.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
          const said = found.violations.map((v) => `${v.id}: ${v.help} (${v.nodes.slice(0, 3).map((n) => n.target.join(" ")).join(" | ")})`);
          assert.deepEqual(said, []);
          const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
          assert.ok(wide <= 0, `the page is ${wide} px wider than its window`);
        }));
    }
  }
}
