// The guide from stitch to stitch: what was laid out for this page goes to the guide, and the browser keeps the place.
const laid = JSON.parse(find("laid-out").textContent);
const key = `mosaickit-place-${pattern}`;
const browser = inTheBrowser(key);
let led = null;

const dataIn = (terms) => ({ ...laid.shared, ...laid.terms[terms] });
const follow = (place) => {
  const top = laid.tops[place.rows]; // none when all is done
  find("mark").setAttribute("visibility", top === undefined ? "hidden" : "visible");
  find("mark").setAttribute("y", String(top ?? 0));
  if (browser.kept()) {
    led.tell("Your place is kept on this device, in this browser. A private window forgets it when it is closed.", "");
  } else {
    led.tell("", "This browser keeps nothing for this page, so note your place before you close it.");
  }
};
const lead = () => {
  const data = dataIn(root.dataset.terms);
  const store = {
    ...browser,
    save: (place) => {
      browser.save(place);
      follow(place);
    },
  };
  led?.stop();
  led = guide(find("along"), data, store);
  follow(placed(browser.load(), data));
};

lead();
for (const choice of document.querySelectorAll('input[name="terms"]')) {
  choice.addEventListener("change", lead);
}
// the same page in another window goes on from there
window.addEventListener("storage", (event) => {
  if (event.key === key) {
    led.goTo(browser.load());
    follow(placed(browser.load(), dataIn(root.dataset.terms)));
  }
});
