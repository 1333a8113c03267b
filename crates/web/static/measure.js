// Measuring, where scripts run: a larger view can be dragged under its cross instead of tapped. Every page works without.

const TREMOR_PX = 6;
let drag;

const picture = (event) => event.target.closest?.(".tapped-picture[data-side]");

function offer() {
  for (const hint of document.querySelectorAll(".drag[hidden]")) hint.hidden = false;
}

document.addEventListener("pointerdown", (event) => {
  const view = picture(event);
  if (!view || event.button !== 0) return;
  drag = { view, x: event.clientX, y: event.clientY, right: 0, down: 0, far: false };
});

document.addEventListener("pointermove", (event) => {
  if (!drag) return;
  [drag.right, drag.down] = [event.clientX - drag.x, event.clientY - drag.y];
  drag.far ||= Math.hypot(drag.right, drag.down) > TREMOR_PX;
  if (!drag.far) return;
  drag.view.classList.add("dragged");
  drag.view.querySelector("input").style.transform = `translate(${drag.right}px, ${drag.down}px)`;
});

document.addEventListener("pointerup", () => {
  if (!drag) return;
  const { view, right, down, far } = drag;
  drag = undefined;
  if (!far) return;
  // The click that ends a drag is no tap.
  window.addEventListener("click", swallow, { capture: true, once: true });
  setTimeout(() => window.removeEventListener("click", swallow, { capture: true }), 0);
  const at = view.closest("form").elements.namedItem("at");
  const perPx = Number(view.dataset.side) / view.querySelector("input").width;
  const [x, y] = at.value.split(",").map(Number);
  at.value = `${Math.max(0, x - right * perPx).toFixed(1)},${Math.max(0, y - down * perPx).toFixed(1)}`;
  view.closest("form").requestSubmit();
});

function swallow(event) {
  event.preventDefault();
  event.stopPropagation();
}

document.addEventListener("pointercancel", () => {
  if (drag) drag.view.querySelector("input").style.transform = "";
  drag = undefined;
});
document.addEventListener("dragstart", (event) => picture(event) && event.preventDefault());

new MutationObserver(offer).observe(document.body, { childList: true, subtree: true });
offer();
