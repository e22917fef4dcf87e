/* Keeps what stands beside the element (facts, drawing, downloads, examples, address) in step with what is chosen. */
const element = document.querySelector("strap-design");
const facts = document.querySelector("#facts");
const curl = document.querySelector("#curl");
const image = document.querySelector("#image");
const base = new URL(".", document.currentScript.src);

/* What is said to people, with its values: the sentence is what a catalogue of another language finds it by. */
const say = (sentence, values = {}) => sentence.replace(/{(\w+)}/g, (_, name) => values[name]);

const told = ({ finished, worn }) => {
  const holes = finished.holes.filter((hole, n) => worn[n]?.lies_down);
  const rows = [worn.length ? [say("To the middle hole"), finished.length] : [say("Over all"), finished.from.frame]];
  if (holes.length > 1) rows.push([say("Fits girths from"), say("{least} to {most}", { least: holes[0].fits, most: holes.at(-1).fits })]);
  return [...rows, [say("Weighs"), say("{grams} g", { grams: Math.round(finished.weight_g) })]];
};

const row = ([name, value]) => {
  const made = [document.createElement("div"), document.createElement("dt"), document.createElement("dd")];
  made[1].textContent = name;
  made[2].textContent = value;
  made[0].append(made[1], made[2]);
  return made[0];
};

/* What stands of the choice before is not to be taken away, while nothing is known of the one after it. */
const unsettle = () => {
  for (const part of document.querySelectorAll("[data-made]")) part.inert = true;
  for (const part of document.querySelectorAll(".notice")) part.remove();
};

element.addEventListener("strap-change", ({ detail }) => {
  if (detail.made === null) return unsettle();
  const path = `v1/designs/${detail.design}/pattern`;
  for (const part of document.querySelectorAll("[data-made]")) {
    part.inert = false;
    part.hidden = !detail.made;
  }
  history.replaceState(null, "", `?${detail.query}`);
  if (!detail.made) return;
  facts.replaceChildren(...told(detail.pattern).map(row));
  for (const part of document.querySelectorAll("[data-form]")) {
    const address = `${base.pathname}${path}.${part.dataset.form}?${[detail.query, part.dataset.more].filter(Boolean).join("&")}`;
    if (part.localName === "img") part.src = address;
    else part.href = address;
  }
  if (!curl) return; // a buyer's page
  curl.textContent = `curl -s '${curl.dataset.site}/${path}.json?${detail.query}'`;
  image.textContent = `<img src="${image.dataset.site}/${path}.svg?${detail.query}&view=finished" alt="">`;
});
