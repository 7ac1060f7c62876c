// @ts-check
/** A slider and a number field that say the same; Python is told when either is let go. */

/** @param {{ model: any, el: HTMLElement }} context */
function render({ model, el }) {
  if (model.get("offline")) { // a slider that no one follows is no control, but a number
    const said = document.createElement("p");
    said.className = "setting";
    const value = document.createElement("strong");
    value.textContent = String(Number(model.get("value").toPrecision(6)));
    said.append(`${model.get("name")}: `, value);
    el.append(said);
    return;
  }
  const frame = document.createElement("div");
  frame.className = "mk-slider";
  const label = document.createElement("label");
  const words = document.createElement("span");
  const range = document.createElement("input");
  range.type = "range";
  label.append(words, range);
  const field = document.createElement("input");
  field.type = "number";
  frame.append(label, field);
  el.append(frame);

  function draw() {
    const name = model.get("name");
    words.textContent = name;
    field.setAttribute("aria-label", `${name}, as a number`);
    for (const input of [range, field]) {
      input.min = model.get("least");
      input.max = model.get("most");
    }
    range.step = model.get("step");
    field.step = "any";
    range.value = model.get("value");
    field.value = String(Number(model.get("value").toPrecision(6)));
  }

  /** @param {string} text */
  function tell(text) {
    const number = Number(text);
    if (text === "" || !Number.isFinite(number)) draw();
    else {
      model.set("value", Math.min(Math.max(number, model.get("least")), model.get("most")));
      model.save_changes();
      draw();
    }
  }

  range.addEventListener("input", () => (field.value = range.value));
  range.addEventListener("change", () => tell(range.value));
  field.addEventListener("change", () => tell(field.value));
  // plain keys would reach the notebook, where some of them delete cells
  frame.addEventListener("keydown", (event) => {
    if (!event.ctrlKey && !event.metaKey) event.stopPropagation();
  });
  const follows = ["value", "least", "most", "step", "name"].map((trait) => `change:${trait}`);
  for (const change of follows) model.on(change, draw);
  draw();
  return () => {
    for (const change of follows) model.off(change, draw);
  };
}

export default { render };
