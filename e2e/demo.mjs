// Starts the program's demo on a free port and a browser beside it; ends both.
import { spawn } from "node:child_process";
import { mkdirSync } from "node:fs";
import { chromium } from "playwright-core";

const binary = process.env.COATWRIGHT_BIN ?? new URL("../target/debug/coatwright", import.meta.url).pathname;

/** Runs `coatwright demo` and resolves to its address once it has printed it on the first line. */
export function startDemo() {
  const child = spawn(binary, ["demo", "--no-open", "--port", "0"], { stdio: ["ignore", "pipe", "pipe"] });
  let said = "";
  return new Promise((resolve, reject) => {
    child.stderr.on("data", (bytes) => (said += bytes));
    child.on("exit", (code) => reject(new Error(`demo ended with ${code}: ${said}`)));
    child.stdout.on("data", (bytes) => {
      said += bytes;
      const address = said.match(/https?:\/\/\S+/)?.[0];
      if (address) resolve({ address: address.replace(/\/$/, ""), stop: () => child.kill("SIGINT"), child });
    });
  });
}

/** A headless browser: Debian's chromium, asking nothing of the network. */
export function startBrowser() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
}

/** Keeps a picture of a page that failed. */
export async function keepPicture(page, name) {
  mkdirSync(new URL("./out/", import.meta.url), { recursive: true });
  await page.screenshot({ path: new URL(`./out/${name.replaceAll(/\W+/g, "-")}.png`, import.meta.url).pathname, fullPage: true }).catch(() => {});
}

/** One journey: a page of its own in a context with these options; errors of the page's own scripts fail it. */
export async function journey(browser, name, options, walk) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const faults = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error" && !/status of 4\d\d/.test(message.text())) faults.push(message.text());
  });
  try {
    await walk(page);
    if (faults.length > 0) throw new Error(`the page's own scripts failed: ${faults.join("; ")}`);
  } catch (error) {
    await keepPicture(page, name);
    throw error;
  } finally {
    await context.close();
  }
}
