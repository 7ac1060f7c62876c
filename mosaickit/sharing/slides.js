// @ts-check
/** Shows one slide at a time; the address says which, so that it can be gone back to. Printed, each is a page. */
(() => {
  const slides = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".slide")]);
  const nav = /** @type {HTMLElement} */ (document.querySelector(".turn"));
  const status = /** @type {HTMLElement} */ (nav.querySelector("[role=status]"));
  const [previous, next] = /** @type {HTMLButtonElement[]} */ ([...nav.querySelectorAll("button")]);
  let at = 0;

  /** @param {number} number */
  function turnTo(number) {
    at = Math.max(0, Math.min(slides.length - 1, number));
    slides.forEach((slide, each) => (slide.hidden = each !== at));
    previous.disabled = at === 0;
    next.disabled = at === slides.length - 1;
    status.textContent = `${at + 1} of ${slides.length}`;
    history.replaceState(null, "", `#${at + 1}`);
    scrollTo(0, 0);
    document.dispatchEvent(new Event("turned"));
  }

  const STEPS = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1, Home: -Infinity, End: Infinity };
  document.addEventListener("keydown", (event) => {
    const step = STEPS[/** @type {keyof typeof STEPS} */ (event.key)];
    const target = /** @type {HTMLElement} */ (event.target);
    // keys that a widget, a field or a wide table understands are theirs
    if (!step || event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
    if (target.closest("input, select, textarea, canvas, [role=application], .live, .wide")) return;
    event.preventDefault();
    turnTo(at + step);
  });
  for (const button of [previous, next]) {
    button.addEventListener("click", () => turnTo(at + Number(button.dataset.turn)));
  }
  addEventListener("hashchange", () => turnTo(Number(location.hash.slice(1)) - 1 || 0));
  addEventListener("beforeprint", () => {
    for (const slide of slides) slide.hidden = false;
    document.dispatchEvent(new Event("turned"));
  });
  addEventListener("afterprint", () => turnTo(at));
  nav.hidden = false;
  turnTo(Number(location.hash.slice(1)) - 1 || 0);
})();
