// Disagreeing with the plan: a step is taken out by hand, what the check warns of is overruled with a reason, and the plan says so.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { journey, startBrowser, startDemo } from "../demo.mjs";

let demo;
let browser;
const main = (page) => page.getByRole("main");

for (const scripts of [true, false]) {
  const options = { javaScriptEnabled: scripts, viewport: { width: 390, height: 844 } };
  describe(scripts ? "with scripts" : "without scripts", () => {
    // Each with a shop of its own: what was overruled stays overruled.
    before(async () => {
      demo = await startDemo();
      browser = await startBrowser();
    });
    after(async () => {
      await browser?.close();
      demo?.stop();
    });

    test("edit, overrule, plan it, and the piece says so; then back to the derived one", () =>
      journey(browser, `by-hand-${scripts}`, options, async (page) => {
        await page.goto(`${demo.address}/pieces/hall-bench`);
        const zone = main(page).locator("section.zone").first();
        await zone.getByRole("link", { name: "Change the steps" }).click();
        await page.getByRole("heading", { level: 1, name: /by hand/ }).waitFor();
        await page.getByRole("button", { name: /dust off: take out/i }).first().click();
        const open = page.locator("main summary", { hasText: /^Go on in spite of it$/ });
        await open.first().waitFor();
        for (let turn = 0; turn < 8; turn += 1) {
          if ((await open.count()) === 0) break;
          const before = await open.count();
          const warning = main(page).locator(".caution.warn").filter({ has: page.locator("summary", { hasText: /^Go on in spite of it$/ }) }).first();
          await open.first().click();
          await warning.getByLabel("Why").fill("blown off with clean air");
          await warning.getByLabel("Who says so").fill("Ada");
          await warning.getByRole("button", { name: "Overrule this warning" }).click();
          await page.waitForFunction((n) => [...document.querySelectorAll("summary")].filter((s) => s.textContent === "Go on in spite of it").length < n, before);
        }
        await main(page).getByRole("button", { name: "Plan it so" }).click();
        await page.getByText("You chose to go on although").first().waitFor();
        const said = await main(page).innerText();
        assert.match(said, /blown off with clean air/);
        assert.match(said, /Your own steps/);
        await main(page).getByRole("button", { name: "Back to the derived one" }).click();
        await page.getByRole("heading", { name: /^Steps of the/ }).first().waitFor();
        assert.doesNotMatch(await main(page).innerText(), /Your own steps/);
      }));

    test("a layer is put on by tapping, and taken off again", () =>
      journey(browser, `layers-${scripts}`, options, async (page) => {
        await page.goto(`${demo.address}/pieces/hall-bench/zones/body`);
        const before = await page.locator("a.coat").count();
        const box = await page.locator("a.coat").first().boundingBox();
        assert.ok(box.height >= 48 && box.width >= 300, "a layer is large enough for a thumb");
        await page.getByRole("link", { name: /Add a layer on top/ }).click();
        await page.getByLabel("What it is").selectOption("milk-paint");
        await page.getByRole("button", { name: "Put it there" }).click();
        await page.getByRole("link", { name: /Milk paint/ }).waitFor();
        assert.equal(await page.locator("a.coat").count(), before + 1);
        await page.getByRole("link", { name: /Milk paint/ }).click();
        await page.getByRole("link", { name: /I don't know what it is/ }).waitFor();
        await page.getByRole("button", { name: /take it out/ }).click();
        await page.getByRole("heading", { level: 2, name: /cut through/ }).waitFor();
        assert.equal(await page.locator("a.coat").count(), before);
      }));
  });
}
