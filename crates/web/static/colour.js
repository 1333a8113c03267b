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
