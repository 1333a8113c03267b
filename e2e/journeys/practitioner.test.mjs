// What a practitioner does, with scripts on and with scripts off: the same journeys, by role and label.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { journey, startBrowser, startDemo } from "../demo.mjs";

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

const at = (path) => demo.address + path;
const main = (page) => page.getByRole("main");

for (const scripts of [true, false]) {
  const options = { javaScriptEnabled: scripts };
  describe(scripts ? "with scripts" : "without scripts", () => {
    test("will it stick? is answered with nothing set up", () =>
      journey(browser, `stick-${scripts}`, options, async (page) => {
        await page.goto(at("/"));
        const form = page.getByRole("region", { name: "Will it stick?" });
        await form.getByLabel("What is there").selectOption({ value: "oil-based-polyurethane" });
        await form.getByLabel("What goes on").selectOption({ value: "waterborne-acrylic-enamel" });
        await form.getByRole("button").first().click();
        await page.getByText(/scuff/i).first().waitFor();
      }));

    test("how much? is answered from a form and three numbers", () =>
      journey(browser, `much-${scripts}`, options, async (page) => {
        await page.goto(at("/"));
        const form = page.getByRole("region", { name: "How much?" });
        await form.getByLabel("Width").fill("46 in");
        await form.getByLabel("Depth").fill("18 1/2\"");
        await form.getByLabel("Height").fill("2'9\"");
        await form.getByRole("button").first().click();
        await page.getByText(/\b(pt|qt|fl oz|pint|quart|ml|l)\b/i).first().waitFor();
      }));

    test("when? is answered for the air of the day", () =>
      journey(browser, `when-${scripts}`, options, async (page) => {
        await page.goto(at("/"));
        const form = page.getByRole("region", { name: "When?" });
        await form.getByLabel("Temperature").fill("58 °F");
        await form.getByLabel("Humidity").fill("65 %");
        await form.getByRole("button").first().click();
        await page.getByText(/dew point/i).first().waitFor();
      }));

    test("nonsense is answered beside its field, and what was typed stays", () =>
      journey(browser, `nonsense-${scripts}`, options, async (page) => {
        await page.goto(at("/pieces/new"));
        await page.getByLabel("Name").fill("corner shelf");
        await page.getByLabel("Width").fill("about so wide");
        await page.getByLabel("Depth").fill("12 in");
        await page.getByLabel("Height").fill("30 in");
        await page.getByRole("button", { name: "Take it in" }).click();
        await page.getByLabel("Width").waitFor();
        assert.equal(await page.getByLabel("Width").inputValue(), "about so wide");
        assert.equal(await page.getByLabel("Width").getAttribute("aria-invalid"), "true");
        assert.equal(await page.getByLabel("Name").inputValue(), "corner shelf");
      }));

    test("a piece is taken in from three numbers, and another schedule is chosen", () =>
      journey(browser, `piece-${scripts}`, options, async (page) => {
        await page.goto(at("/pieces"));
        await main(page).getByRole("link", { name: /new piece/i }).first().click();
        const name = `plant stand ${scripts ? "one" : "two"}`;
        await page.getByLabel("Name").fill(name);
        await page.getByLabel("Width").fill("12 in");
        await page.getByLabel("Depth").fill("12 in");
        await page.getByLabel("Height").fill("30 in");
        await page.getByRole("button", { name: "Take it in" }).click();
        await page.getByRole("heading", { level: 1, name }).waitFor();
        assert.match(page.url(), /\/pieces\/plant-stand/);
        const choose = main(page).getByRole("button", { name: /choose/i }).first();
        await choose.click();
        await page.getByRole("heading", { level: 1, name }).waitFor();
      }));

    test("a lead test is said with its kind and amount; what a swab cannot say is refused and nothing is lost", () =>
      journey(browser, `lead-${scripts}`, options, async (page) => {
        const zone = "/pieces/blanket-box/zones/outside";
        await page.goto(at(zone));
        await page.getByLabel("Lead test").selectOption({ label: "lead found" });
        await page.getByLabel("Kind of test").selectOption({ label: "home swab kit" });
        await page.getByLabel("How much lead").fill("2.4 mg/cm2");
        await page.getByRole("button", { name: "Plan it so" }).click();
        const amount = page.getByLabel("How much lead");
        assert.equal(await amount.getAttribute("aria-invalid"), "true");
        assert.equal(await amount.inputValue(), "2.4 mg/cm2");
        await page.getByText(/a home swab kit gives no amount/).waitFor();
        await page.getByLabel("Kind of test").selectOption({ label: "X-ray fluorescence (XRF) by a certified inspector" });
        await page.getByRole("button", { name: "Plan it so" }).click();
        await page.getByText(/lead found: 2\.4 mg\/cm²/).first().waitFor();
        await page.getByText(/2\.4 times what counts as lead paint/).first().waitFor();
        await page.goto(at(zone));
        await page.getByLabel("Lead test").selectOption({ label: "not tested" });
        await page.getByLabel("Kind of test").selectOption({ label: "not noted" });
        await page.getByLabel("How much lead").fill("");
        await page.getByRole("button", { name: "Plan it so" }).click();
        await page.getByRole("heading", { level: 1, name: "blanket box" }).waitFor();
      }));

    test("a step is marked done at the bench, and the next one comes up", () =>
      journey(browser, `bench-${scripts}`, options, async (page) => {
        await page.goto(at("/week"));
        const weekBefore = await main(page).innerText();
        await page.goto(at("/bench"));
        const before = await page.locator(".now").first().innerText();
        await main(page).getByRole("button", { name: "Done" }).first().click();
        await page.waitForLoadState("networkidle");
        await page.goto(at("/bench"));
        const then = await page.locator(".now").first().innerText();
        assert.notEqual(then, before);
        await page.goto(at("/week"));
        assert.notEqual(await main(page).innerText(), weekBefore, "the week has not moved");
      }));

    test("a step is refused where its wait forbids it, moved to a time that was named, and moved back", () =>
      journey(browser, `move-${scripts}`, options, async (page) => {
        await page.goto(at("/week"));
        const card = page.getByRole("region", { name: "Move a step" });
        const steps = await card.getByLabel("Which step").locator("option").evaluateAll((all) => all.map((each) => each.value));
        const last = steps.at(-1);
        const today = (await page.locator("time").first().getAttribute("datetime")).slice(0, 10);
        const ask = async (day, clock) => {
          await card.getByLabel("Which step").selectOption(last);
          await card.getByLabel("Day").fill(day);
          await card.getByLabel("At", { exact: true }).fill(clock);
          await card.getByRole("button", { name: "Move it there" }).click();
        };
        await ask(today, "11:45");
        const refusal = await card.getByText(/cannot begin/).innerText();
        const named = refusal.match(/It could begin \w+ (\d+) (\w+) (\d+:\d+)/);
        assert.ok(named, refusal);
        const months = { Mar: "03", Apr: "04", May: "05" };
        await ask(`2027-${months[named[2]]}-${named[1].padStart(2, "0")}`, named[3].padStart(5, "0"));
        await page.getByText(/stays at/).first().waitFor();
        const undo = page.getByRole("button", { name: /^Undo: .*moved to/ });
        await undo.click();
        await page.getByRole("button", { name: /^Again: .*moved to/ }).waitFor();
        assert.equal(await page.getByText(/stays at/).count(), 0);
      }));

    test("time is taken out, told with what moved, and given back by undo", () =>
      journey(browser, `undo-${scripts}`, options, async (page) => {
        await page.goto(at("/week"));
        const card = page.getByRole("region", { name: "Time taken out" });
        await card.getByLabel("Day").fill("2027-03-13");
        await card.getByLabel("From").fill("10:00");
        await card.getByLabel("Until").fill("16:00");
        await card.getByLabel("Why").fill("market day");
        await card.getByRole("button", { name: "Take it out" }).click();
        await page.getByRole("status").getByText(/steps moved/).waitFor();
        await page.getByRole("button", { name: "Undo: Sat 13 Mar 10:00 to 16:00 (market day) taken out" }).click();
        await page.getByRole("button", { name: /^Again: Sat 13 Mar/ }).waitFor();
      }));

    test("a cold snap is planned with, told with what moved, and taken back by undo", () =>
      journey(browser, `cold-${scripts}`, options, async (page) => {
        await page.goto(at("/week"));
        const card = page.getByRole("region", { name: "A cold snap, or a wet week" });
        await card.getByLabel("From the day").fill("2027-03-12");
        await card.getByLabel("Until the day").fill("2027-03-16");
        await card.getByLabel("Temperature").fill("chilly");
        await card.getByRole("button", { name: "Plan with it" }).click();
        await card.getByText(/chilly/).first().waitFor();
        assert.equal(await card.getByLabel("From the day").inputValue(), "2027-03-12", "what was typed stays");
        await card.getByLabel("Temperature").fill("36 °F");
        await card.getByRole("button", { name: "Plan with it" }).click();
        await page.getByRole("status").getByText(/steps? moved/).waitFor();
        await card.getByText(/at 36 °F, Fri 12 Mar 0:00 to Wed 17 Mar 0:00/).waitFor();
        await page.getByRole("button", { name: /^Undo: .* at 36 °F/ }).click();
        await page.getByRole("button", { name: /^Again: .* at 36 °F/ }).waitFor();
        assert.equal(await card.getByText(/at 36 °F/).count(), 0);
      }));
  });
}
