// Colour pages, where scripts run: picking a colour wins over what was typed or chosen before; every page works without.

document.addEventListener("input", (event) => {
  const group = event.target.closest("fieldset[data-said]");
  if (!group) return;
  const [typed, from] = [group.querySelector("input[type=text]"), group.querySelector("select")];
  if (event.target.type === "color") {
    if (typed) typed.value = "";
    if (from) from.value = "";
  } else if (event.target === from && from.value && typed) {
    typed.value = "";
  }
});

/* The photograph: the picture fills the page, and a tap says how large it was shown. */
function unfold() {
  document.querySelectorAll("input[data-tap]").forEach((picture) => picture.classList.add("fluid"));
  document.documentElement.classList.add("scripted");
  document.querySelectorAll("form[data-preview]").forEach((form) => preview(form));
}

document.addEventListener("click", (event) => {
  const picture = event.target.closest?.("input[data-tap]");
  if (!picture) return;
  picture.form.elements.width.value = picture.clientWidth;
  picture.form.elements.height.value = picture.clientHeight;
}, true);

/* Sliders say their figure, and the part is shown in the colour that is being chosen. */
const waiting = new WeakMap();
document.addEventListener("input", (event) => {
  const { target } = event;
  if (target.type === "range") target.parentElement.querySelector("output").textContent = target.value;
  const form = target.closest("form[data-preview]");
  if (!form) return;
  clearTimeout(waiting.get(form));
  waiting.set(form, setTimeout(() => preview(form), 200));
});

function preview(form) {
  let picture = form.querySelector("img.previewed");
  if (!picture) {
    picture = Object.assign(document.createElement("img"), { className: "previewed", alt: "The part in the colour chosen above" });
    picture.addEventListener("error", () => (picture.hidden = true));
    picture.addEventListener("load", () => (picture.hidden = false));
    form.querySelector("button:last-of-type").before(picture);
  }
  const look = new URLSearchParams(new FormData(form));
  picture.src = `${form.dataset.preview}&${look}`;
}

new MutationObserver((changes) => {
  if (changes.some((change) => [...change.addedNodes].some((node) => node.localName === "main"))) unfold();
}).observe(document.body, { childList: true });
unfold();
