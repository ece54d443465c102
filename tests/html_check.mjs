// Reads reports as a browser does: nothing is fetched, nothing is wider than the screen,
// ticks stay, every paper sheet holds what it should, and nobody is shut out.
//
//   node tests/html_check.mjs TOOLS REPORT.html... [--shots FOLDER]
//
// TOOLS is a folder in which `npm i playwright-core axe-core` was run; the browser is
// Debian's chromium, and pages are counted by poppler.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const words = process.argv.slice(2);
const at = words.indexOf("--shots");
const shots = at < 0 ? null : words.splice(at, 2)[1];
const [tools, ...reports] = words;
const need = createRequire(join(resolve(tools), "package.json"));
const { chromium } = need("playwright-core");
const axe = readFileSync(need.resolve("axe-core/axe.min.js"), "utf8");

const WIDTHS = [320, 390, 736, 768, 1280];
// Of words and tables; each drawing has a sheet of its own.
const MOST_SHEETS = 18;
const wrong = [];
const must = (holds, what) => holds || wrong.push(what);

// What reaches beyond its page; a drawing moves under its own frame.
const tooWide = () => {
  const room = document.documentElement.clientWidth;
  const found = [...document.querySelectorAll("body *")].filter((one) => {
    const box = one.getBoundingClientRect();
    const framed = one.closest(".sheet") && !one.matches(".sheet");
    const away = one.matches(".skip") || box.width === 0;
    return !framed && !away && (box.right > room + 0.5 || box.left < -0.5);
  });
  const page = document.documentElement.scrollWidth > room ? ["the page"] : [];
  return page.concat(found.slice(0, 3).map((one) => one.outerHTML.slice(0, 90)));
};

const watched = async (context, name) => {
  const page = await context.newPage();
  const own = (url) => url.startsWith("file://") && url.split("#")[0].endsWith(".html");
  page.on("console", (said) => must(said.type() === "log", `${name}: ${said.text()}`));
  page.on("pageerror", (error) => wrong.push(`${name}: ${error.message}`));
  page.on("request", (asked) => must(own(asked.url()), `${name} fetches ${asked.url()}`));
  return page;
};

const looks = async (browser, report, name) => {
  for (const colorScheme of ["light", "dark"]) {
    const context = await browser.newContext({ colorScheme, deviceScaleFactor: 1 });
    const page = await watched(context, name);
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 800 });
      await page.goto(report);
      const wide = await page.evaluate(tooWide);
      must(wide.length === 0, `${name} at ${width} px is too wide: ${wide.join(" | ")}`);
      if (width === 390 || width === 1280) {
        await page.evaluate(axe);
        const found = await page.evaluate(() => globalThis.axe.run());
        for (const one of found.violations) {
          wrong.push(`${name}, ${colorScheme}, ${width} px: ${one.id}: ${one.nodes[0].html.slice(0, 120)}`);
        }
        must(found.passes.length > 15, `${name}: only ${found.passes.length} rules were tried`);
      }
      if (shots) {
        const path = join(shots, `${name}-${width}-${colorScheme}.png`);
        // More than so much is no picture to a browser.
        const tall = await page.evaluate(() => document.documentElement.scrollHeight);
        const clip = { x: 0, y: 0, width, height: Math.min(tall, 15000) };
        await page.screenshot({ path, fullPage: true, clip });
      }
    }
    await context.close();
  }
};

const ticks = async (browser, report, name) => {
  const narrow = { width: 390, height: 800 };
  const context = await browser.newContext({ viewport: narrow, reducedMotion: "reduce" });
  const page = await watched(context, name);
  await page.goto(report);
  const drawn = page.locator(".sheet [data-row] circle");
  must((await drawn.count()) > 0, `${name} draws no outlet`);
  await drawn.first().click({ force: true });
  const target = () => page.evaluate(() => document.querySelector(":target")?.id);
  must(/^outlet-\d+$/.test(await target()), `${name} leads from the plan to ${await target()}`);
  await page.locator("#outlets a").first().click();
  must(/^plan-outlet-\d+$/.test(await target()), `${name} leads to the plan's ${await target()}`);
  const boxes = page.locator("input[type=checkbox]");
  const last = (await boxes.count()) - 1;
  must(last > 20, `${name} has ${last + 1} boxes`);
  await boxes.first().check();
  await boxes.nth(last).focus();
  await page.keyboard.press("Space");
  await page.reload();
  const checked = () => page.locator("input:checked").count();
  must((await checked()) === 2, `${name} keeps ${await checked()} of 2 ticks`);
  const said = await page.locator("#shopping output").textContent();
  must(/^1 of \d+ ticked$/.test(said), `${name} counts "${said}"`);
  await page.locator("#shopping .progress button").click();
  await page.reload();
  must((await checked()) === 1, `${name} does not untick one part alone`);
  must(await page.locator(".kept").isVisible(), `${name} does not say that ticks are kept`);
  await context.close();

  const refusing = await browser.newContext();
  const poor = await watched(refusing, `${name}, refused`);
  await poor.addInitScript(() => {
    Object.defineProperty(window, "localStorage", {
      get: () => { throw new DOMException("refused", "SecurityError"); },
    });
  });
  await poor.goto(report);
  await poor.locator("input[type=checkbox]").first().check();
  must(await poor.locator(".not-kept").isVisible(), `${name} hides that ticks are not kept`);
  await refusing.close();

  const plain = await browser.newContext({ javaScriptEnabled: false });
  const still = await watched(plain, `${name}, no script`);
  await still.goto(report);
  await still.locator("input[type=checkbox]").first().check();
  must(await still.locator(".progress").first().isHidden(), `${name} counts without its script`);
  await plain.close();
};

const sheets = async (browser, report, name) => {
  const context = await browser.newContext({ colorScheme: "dark" });
  const page = await watched(context, name);
  await page.goto(report);
  const first = page.locator("input[type=checkbox]").first();
  await first.check();
  const folder = shots ?? mkdtempSync(join(tmpdir(), "html-check-"));
  const asked = await page.evaluate(() =>
    [...document.querySelectorAll(".what, tbody th")].map((one) => one.textContent));
  const drawings = await page.locator("figure").count();
  for (const format of ["A4", "Letter"]) {
    const path = join(folder, `${name}-${format}.pdf`);
    await page.pdf({ path, format, preferCSSPageSize: true });
    const facts = execFileSync("pdfinfo", [path], { encoding: "utf8" });
    const count = Number(/Pages:\s+(\d+)/.exec(facts)[1]);
    const most = MOST_SHEETS + drawings;
    must(count > drawings && count <= most, `${name} takes ${count} sheets of ${format}`);
    const bare = (text) => text.replace(/\s+|-/g, "");
    const text = bare(execFileSync("pdftotext", ["-raw", path, "-"], { encoding: "utf8" }));
    const lost = asked.filter((one) => !text.includes(bare(one)));
    must(lost.length === 0, `${name} on ${format} loses ${lost.slice(0, 3).join(" | ")}`);
  }
  // As wide as A4 and as Letter within the page's margins.
  await page.emulateMedia({ media: "print" });
  for (const width of [687, 710]) {
    await page.setViewportSize({ width, height: 1000 });
    const wide = await page.evaluate(tooWide);
    must(wide.length === 0, `${name} is too wide to print: ${wide.join(" | ")}`);
  }
  await context.close();
};

const browser = await chromium.launch({
  executablePath: "/usr/bin/chromium",
  args: [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
  ],
});
for (const path of reports) {
  const report = pathToFileURL(resolve(path)).href;
  const name = basename(path, ".html");
  for (const check of [looks, ticks, sheets]) {
    await check(browser, report, name).catch((error) => wrong.push(`${name}: ${error.message}`));
  }
}
await browser.close();
for (const what of wrong) console.error(what);
if (wrong.length > 0) process.exit(1);
console.log(`${reports.length} reports read by a browser: nothing wrong`);
