/* A design with its choices, in any page:
   <script src="https://HOST/embed.js" async></script> <strap-design design="bell_garter" bells="6"></strap-design>
   Raises `strap-change`: what is chosen, whether it can be made, code, price. */
(() => {
  const base = new URL(".", document.currentScript?.src ?? location);
  const style = new CSSStyleSheet();
  style.replaceSync(`
    :host { display: block; container-type: inline-size; }
    :host([hidden]) { display: none; }
    * { box-sizing: border-box; font: inherit; color: inherit; }
    img { display: block; width: 100%; aspect-ratio: 4; object-fit: contain; }
    .old { opacity: .3; }
    form { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 12em), 1fr)); gap: .75em 1em; margin: 1em 0; }
    form div { display: grid; gap: .25em; }
    label { font-size: .875em; }
    img:not([src]) { display: none; }
    select, button { width: 100%; min-height: 2.75em; padding: .4em .6em; border: 1px solid; border-radius: .35em; background: transparent; }
    option { background: Canvas; color: CanvasText; }
    option:disabled { color: GrayText; }
    button { width: auto; margin: 0 .5em .5em 0; text-align: start; cursor: pointer; }
    :focus-visible { outline: 3px solid; outline-offset: 2px; }
    p { margin: 0 0 .5em; min-height: 1.5em; }
    @container (width < 30em) { img { aspect-ratio: 2.5; } }
    @media (prefers-reduced-motion: no-preference) { img { transition: opacity .15s; } }`);

  const ask = async (path, options) => {
    const answer = await fetch(new URL(path, base), options);
    return { ok: answer.ok, body: await answer.json() };
  };
  const known = {};
  const once = (path) => (known[path] ??= ask(path).catch((error) => { delete known[path]; throw error; }));
  const make = (tag, more, ...inside) => {
    const made = Object.assign(document.createElement(tag), more);
    made.append(...inside);
    return made;
  };
  const bare = (text) => String(text).replaceAll(" ", "");

  class StrapDesign extends HTMLElement {
    #turn = 0;
    #selects = {};

    connectedCallback() {
      if (this.shadowRoot) return;
      this.attachShadow({ mode: "open" }).append(make("slot"));
      this.shadowRoot.adoptedStyleSheets = [style];
      this.#start().catch(() => this.#tell("This cannot be shown now."));
    }

    get choices() {
      return Object.fromEntries(Object.entries(this.#selects).map(([name, select]) => [name, select.value]));
    }
    set choices(said) {
      for (const [name, text] of Object.entries(said)) this.#pick(name, text);
      this.#show();
    }

    async #start() {
      this.path = `v1/designs/${encodeURIComponent(this.getAttribute("design"))}`;
      const [{ ok, body: design }, { body: all }] = await Promise.all([once(this.path), once(`${this.path}/choices`)]);
      this.status = make("p", { role: "status", part: "status" });
      this.shadowRoot.append(this.status);
      if (!ok) throw design;
      this.design = design;
      this.picture = make("img", { part: "picture" });
      this.ways = make("div", { part: "remedies" });
      this.form = make("form", { part: "form", onsubmit: () => false, onchange: () => {
        clearTimeout(this.timer);
        this.timer = setTimeout(() => this.#show(), 20);
      } });
      for (const choice of design.choices) {
        const { name: id, title } = choice, select = make("select", { id, name: id }, ...this.#options(choice, all));
        this.#selects[id] = select;
        this.form.append(make("div", {}, make("label", { htmlFor: id, textContent: title }), select));
        this.#pick(id, this.getAttribute(id) ?? choice.default);
      }
      await this.#show();
      this.shadowRoot.replaceChildren(this.picture, this.form, this.status, this.ways);
      this.replaceChildren();
    }

    #options({ kind, values, from, to, step }, { makeable }) {
      if (kind == "length") return makeable.map(({ length, value }) => new Option(length, value));
      if (kind == "value") return values.map(({ title, value }) => new Option(title, value));
      return Array.from({ length: (to - from) / step + 1 }, (_, n) => new Option(from + n * step));
    }

    #pick(name, text) {
      const found = [...(this.#selects[name]?.options ?? [])].find((each) => [each.value, each.text].map(bare).includes(bare(text)));
      if (found) found.selected = true;
    }

    #query(more, skip = []) {
      return new URLSearchParams([...Object.entries(this.choices).filter(([name]) => !skip.includes(name)), ...Object.entries(more)]);
    }

    async #show() {
      const turn = ++this.#turn, { along, count, name } = this.design, query = `${this.#query({})}`;
      try {
        const picture = new URL(`${this.path}/pattern.svg?${this.#query({ view: "finished", background: "transparent" })}`, base).href;
        await this.#look(picture, turn).catch(() => {});
        if (turn != this.#turn) return;
        const [{ ok: made, body: pattern }, { body: all }] = await Promise.all([
          ask(`${this.path}/pattern.json?${query}`), once(`${this.path}/choices?${this.#query({}, [along, count])}`)]);
        if (turn != this.#turn) return;
        this.#grey(all);
        this.picture.classList.toggle("old", !made);
        this.#tell(made ? "" : pattern.detail, pattern.remedies);
        const { unit_price: price = null, currency } = made ? await this.#price().catch(() => ({})) : {};
        if (turn != this.#turn) return;
        if (price) this.#tell(new Intl.NumberFormat(document.documentElement.lang || undefined, { style: "currency", currency }).format(price));
        const detail = { design: name, choices: this.choices, query, made, code: made ? pattern.code : null, price, currency, picture, pattern };
        this.dispatchEvent(new CustomEvent("strap-change", { bubbles: true, composed: true, detail }));
      } catch {
        if (turn == this.#turn) this.#tell("The picture is out of date.");
      }
    }

    /** Shows a picture once it is there. */
    async #look(src, turn) {
      const chosen = this.design.choices.map(({ name, title }) => `${title}: ${this.#selects[name].selectedOptions[0].text}`);
      await make("img", { src }).decode();
      if (turn == this.#turn) Object.assign(this.picture, { src, alt: `${this.design.title}. ${chosen.join("; ")}` });
    }

    /** Greys out what cannot be made. */
    #grey({ makeable, offered, along, count }) {
      const counts = (length) => makeable.find(({ value }) => value == length)?.counts ?? [];
      const holds = (number) => counts(this.#selects[along].value).some(([low, high]) => low <= number && number <= high);
      for (const [name, { options }] of Object.entries(this.#selects))
        for (const option of options)
          option.disabled = !(name == count ? holds(+option.value)
            : name == along ? counts(option.value).length
            : offered[name].map(String).includes(option.value));
    }

    #tell(text, remedies = []) {
      if (!this.status) return;
      this.status.textContent = text;
      this.ways?.replaceChildren(...remedies.map(({ detail, changes }) => make("button", { type: "button", textContent: detail, onclick: () => {
        this.choices = Object.fromEntries(changes.map(({ parameter, text }) => [parameter, text]));
        this.#selects[changes[0].parameter].focus();
      } })));
    }

    async #price() {
      if (!this.design.quotes) return {};
      const lines = [{ ref: "1", design: this.design.name, choices: this.choices, quantity: 1 }];
      const { ok, body } = await ask(this.design.quotes.slice(1), { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ lines }) });
      if (!ok) this.design.quotes = null;
      return ok ? { ...body.lines[0], currency: body.currency } : {};
    }
  }
  customElements.get("strap-design") || customElements.define("strap-design", StrapDesign);
})();
