/* Shows a design with its choices in any page:
   <script src="https://HOST/embed.js" async></script> <strap-design design="bell_garter" bells="6"></strap-design>
   Raises `strap-change` with {design, choices, made, code, price, currency, picture, pattern, query}. */
(() => {
  const base = new URL(".", document.currentScript?.src ?? location.href);
  const style = new CSSStyleSheet();
  style.replaceSync(`
    :host { display: block; container-type: inline-size; }
    :host([hidden]), [hidden] { display: none; }
    * { box-sizing: border-box; font: inherit; color: inherit; }
    img { display: block; width: 100%; aspect-ratio: 3; object-fit: contain; }
    img.old { opacity: .35; }
    form { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 11em), 1fr)); gap: .75em 1em; margin: 1em 0 .5em; }
    label { display: grid; gap: .25em; align-content: start; }
    span { font-size: .875em; }
    select, button { min-height: 2.75em; padding: .4em .6em; border: 1px solid currentColor; border-radius: .35em; background: transparent; max-width: 100%; }
    option { background: Canvas; color: CanvasText; }
    option:disabled { color: GrayText; }
    button { cursor: pointer; margin: 0 .5em .5em 0; text-align: start; }
    :focus-visible { outline: 3px solid Highlight; outline-offset: 2px; }
    p { margin: 0 0 .5em; min-height: 1.5em; }
    @media (prefers-reduced-motion: no-preference) { img { transition: opacity .15s; } }`);
  const known = new Map();
  const ask = async (path, options) => {
    const answer = await fetch(new URL(path, base), options);
    return { ok: answer.ok, body: await answer.json() };
  };
  const once = (path) => {
    if (!known.has(path)) known.set(path, ask(path).catch((error) => { known.delete(path); throw error; }));
    return known.get(path);
  };
  const make = (tag, more = {}, ...inside) => {
    const made = Object.assign(document.createElement(tag), more);
    made.append(...inside);
    return made;
  };
  const squeezed = (text) => String(text).replaceAll(" ", "");

  customElements.get("strap-design") || customElements.define("strap-design", class extends HTMLElement {
    #turn = 0;
    #selects = {};

    connectedCallback() {
      if (this.shadowRoot) return;
      this.attachShadow({ mode: "open" }).append(make("slot"));
      this.shadowRoot.adoptedStyleSheets = [style];
      this.ready = this.#start().catch(() => this.#tell("This design cannot be shown at the moment."));
    }

    /** What is chosen, by name. Set it to choose. */
    get choices() {
      return Object.fromEntries(Object.entries(this.#selects).map(([name, select]) => [name, select.value]));
    }
    set choices(said) {
      for (const [name, text] of Object.entries(said)) this.#pick(name, text);
      this.#change();
    }

    async #start() {
      this.path = `v1/designs/${encodeURIComponent(this.getAttribute("design"))}`;
      const { ok, body } = await once(this.path);
      if (!ok) throw body;
      this.design = body;
      const { body: all } = await once(`${this.path}/choices`);
      this.picture = make("img", { part: "picture" });
      this.status = make("p", { role: "status", part: "status" });
      this.ways = make("div", { part: "remedies" });
      this.form = make("form", { part: "form", onsubmit: (event) => event.preventDefault() });
      for (const choice of body.choices) {
        const select = this.#selects[choice.name] = make("select", { name: choice.name }, ...this.#options(choice, all));
        this.form.append(make("label", {}, make("span", { textContent: choice.title }), select));
        const first = choice.kind == "length" ? choice.default : String(choice.default);
        this.#pick(choice.name, this.getAttribute(choice.name) ?? first);
      }
      this.form.onchange = () => this.#change();
      await this.#show();
    }

    #options(choice, all) {
      if (choice.kind == "length") return all.makeable.map((line) => new Option(line.length, line.value));
      if (choice.kind == "value") return choice.values.map(({ title, value }) => new Option(title, value));
      const count = (choice.to - choice.from) / choice.step + 1;
      return Array.from({ length: count }, (_, n) => new Option(choice.from + n * choice.step));
    }

    #pick(name, text) {
      const select = this.#selects[name], wanted = squeezed(text);
      const found = [...(select?.options ?? [])].find((each) => [each.value, each.text].map(squeezed).includes(wanted));
      if (found) found.selected = true;
    }

    #change() {
      clearTimeout(this.timer);
      this.timer = setTimeout(() => this.#show().catch(() => this.#tell("The picture cannot be brought up to date.")), 20);
    }

    #query(more = {}, skip = []) {
      const said = Object.entries(this.choices).filter(([name]) => !skip.includes(name));
      return new URLSearchParams([...said, ...Object.entries(more)]);
    }

    async #show() {
      const turn = ++this.#turn, { along, count } = this.design, query = this.#query();
      const pattern = once(`${this.path}/pattern.json?${query}`);
      const { body: all } = await once(`${this.path}/choices?${this.#query({}, [along, count])}`);
      if (turn != this.#turn) return;
      const made = this.#grey(all);
      const picture = String(new URL(`${this.path}/pattern.svg?${this.#query({ view: "finished" })}`, base));
      if (made) this.#look(picture);
      const { ok, body } = await pattern;
      if (turn != this.#turn) return;
      this.picture.classList.toggle("old", !ok);
      if (!ok) this.#tell(body.detail ?? body.title, body.remedies);
      else this.#tell(made ? "" : this.#look(picture));
      if (!this.form.isConnected) this.shadowRoot.replaceChildren(this.picture, this.form, this.status, this.ways);
      const price = ok ? await this.#price() : {};
      if (turn != this.#turn) return;
      if (price.text) this.#tell(price.text);
      this.dispatchEvent(new CustomEvent("strap-change", { bubbles: true, composed: true, detail: {
        design: this.design.name, choices: this.choices, made: ok, code: ok ? body.code : null, price: price.amount ?? null,
        currency: price.currency ?? null, picture: ok ? picture : null, pattern: ok ? body : null, query: String(query) } }));
    }

    #look(picture) {
      const chosen = this.design.choices.map(({ name, title }) => `${title}: ${this.#selects[name].selectedOptions[0]?.text}`);
      this.picture.alt = `${this.design.title}. ${chosen.join("; ")}`;
      if (this.picture.src != picture) this.picture.src = picture;
      return "";
    }

    /** Greys out what cannot be made; whether the chosen pair can. */
    #grey({ makeable, offered, along, count }) {
      const here = makeable.find((line) => line.value == this.#selects[along].value)?.counts ?? [];
      const passes = (number) => here.some(([low, high]) => low <= number && number <= high);
      for (const [name, select] of Object.entries(this.#selects))
        for (const option of select.options)
          option.disabled = name == count ? !passes(+option.value)
            : name == along ? !makeable.find((line) => line.value == option.value)?.counts.length
            : !offered[name].map(String).includes(option.value);
      return count ? passes(+this.#selects[count].value) : here.length > 0;
    }

    #tell(text, remedies = []) {
      if (!this.status) return;
      this.status.textContent = text;
      this.ways.replaceChildren(...remedies.map(({ detail, changes }) => make("button", { type: "button", textContent: detail,
        onclick: () => { this.choices = Object.fromEntries(changes.map((each) => [each.parameter, each.text])); this.form.elements[0].focus(); } })));
    }

    async #price() {
      if (!this.design.quotes || known.get("closed")) return {};
      const lines = [{ ref: "1", design: this.design.name, choices: this.choices, quantity: 1 }];
      const { ok, body } = await ask(this.design.quotes.slice(1), { method: "POST", body: JSON.stringify({ lines }), headers: { "Content-Type": "application/json" } });
      if (!ok) { known.set("closed", true); return {}; }
      const amount = body.lines[0].unit_price, currency = body.currency;
      return { amount, currency, text: new Intl.NumberFormat(document.documentElement.lang || undefined, { style: "currency", currency }).format(amount) };
    }
  });
})();
