// Makes the pages live where scripts run; every page works without.
// A form marked data-live changes the page in place; a clock marked data-until counts down.

const main = () => document.querySelector("main");

/** Puts the main part of a fetched page in the place of this one's, and keeps the place of the reader. */
async function swap(response, anchor, again) {
  const page = new DOMParser().parseFromString(await response.text(), "text/html");
  const fresh = page.querySelector("main");
  if (!fresh) return location.assign(response.url);
  const at = window.scrollY;
  main().replaceWith(document.adoptNode(fresh));
  document.title = page.title;
  if (response.url !== location.href) history.pushState({}, "", response.url);
  window.scrollTo({ top: at, behavior: "instant" });
  const spoken = (again && document.getElementById(again)) || (anchor && document.getElementById(anchor));
  (fresh.querySelector("[aria-invalid=true]") ?? fresh.querySelector(".reply") ?? spoken ?? fresh).focus?.({ preventScroll: true });
  fresh.querySelector(".reply")?.scrollIntoView({ block: "nearest" });
  wind();
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.matches("form[data-live]")) return;
  event.preventDefault();
  const entries = new URLSearchParams(new FormData(form, event.submitter));
  const isGet = form.method === "get";
  const address = isGet ? `${form.action}?${entries}` : form.action;
  if (form.dataset.busy) return;
  form.dataset.busy = "yes";
  try {
    const response = await fetch(address, isGet ? {} : { method: "POST", body: entries });
    await swap(response, form.closest("section[id]")?.id);
  } catch {
    delete form.dataset.busy;
    if (form.dataset.keep !== undefined) keep(address, entries);
    else say("No connection: nothing was changed. Try again when it is back.");
  }
});

/* A link marked data-live changes the page in place, and stays where the hand is. */
document.addEventListener("click", async (event) => {
  const link = event.target.closest?.("a[data-live]");
  if (!link || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
  event.preventDefault();
  try {
    await swap(await fetch(link.href), undefined, link.id);
  } catch {
    location.assign(link.href);
  }
});

window.addEventListener("popstate", () => location.reload());

/* A tap while the Wi-Fi is gone is kept, and sent when it is back. */
const QUEUE = "kept taps";
const kept = () => JSON.parse(localStorage.getItem(QUEUE) ?? "[]");

function keep(address, entries) {
  localStorage.setItem(QUEUE, JSON.stringify([...kept(), [address, String(entries)]]));
  say("No connection. What you tapped is kept and sent when it is back.");
}

async function sendKept() {
  const taps = kept();
  if (taps.length === 0) return;
  while (taps.length > 0) {
    const [address, entries] = taps[0];
    try {
      await fetch(address, { method: "POST", body: new URLSearchParams(entries) });
    } catch {
      return;
    }
    taps.shift();
    localStorage.setItem(QUEUE, JSON.stringify(taps));
  }
  location.reload();
}

function say(text) {
  let line = document.getElementById("said");
  if (!line) {
    line = Object.assign(document.createElement("p"), { id: "said", className: "caution warn" });
    line.setAttribute("role", "status");
    main().prepend(line);
  }
  line.textContent = text;
}

window.addEventListener("online", sendKept);

/* Clocks: the server says the moment it answered at, so that a wrong clock in the phone does no harm. */
let ticking;
function wind() {
  clearInterval(ticking);
  const began = performance.now();
  const clocks = [...document.querySelectorAll("[data-until]")].map((clock) => ({
    clock,
    left: Date.parse(clock.dataset.until) - Date.parse(clock.dataset.now),
  }));
  if (clocks.length === 0) return;
  const show = () => {
    for (const { clock, left } of clocks) clock.textContent = words(left - (performance.now() - began));
  };
  show();
  ticking = setInterval(show, 1000);
}

function words(ms) {
  if (ms <= 0) return "over";
  const seconds = Math.floor(ms / 1000);
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (n) => String(n).padStart(2, "0");
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

wind();
sendKept();
