/* A design with its choices, in any page:
   <script src="https://HOST/embed.js" async></script> <strap-design design="bell_garter" bells="6"></strap-design>
   A change raises `strap-change` at once, with `made: null`, and again when all of it is known. */
(() => {
  const base = new URL(".", document.currentScript?.src ?? location);
  const TRIES = 5; // before the buyer is asked
  const LONGEST_WAIT = 60, LONGEST_TRY = 30, PATIENCE = 0.9; // seconds; so long nobody asks
  const PASSING = [0, 408, 425, 429]; // and 500 and above
  const style = new CSSStyleSheet();
  style.replaceSync(`
    :host { display: block; container-type: inline-size; }
    :host([hidden]) { display: none; }
    * { box-sizing: border-box; font: inherit; color: inherit; }
    img { display: block; width: 100%; aspect-ratio: 4; object-fit: contain; transition: opacity 0s; }
    .old { opacity: .3; transition-delay: .4s; }
    form { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 12em), 1fr)); gap: .75em 1em; margin: 1em 0; }
    form div { display: grid; gap: .25em; }
    label { font-size: .875em; }
    img:not([src]) { display: none; }
    select, button { width: 100%; min-height: 2.75em; padding: .4em .6em; border: 1px solid; border-radius: .35em; background: transparent; }
    option { background: Canvas; color: CanvasText; }
    option.withheld { color: GrayText; }
    button { width: auto; margin: 0 .5em .5em 0; text-align: start; cursor: pointer; }
    :focus-visible { outline: 3px solid; outline-offset: 2px; }
    p { margin: 0 0 .5em; min-height: 1.5em; }
    @container (width < 30em) { img { aspect-ratio: 2.5; } }
    @media (prefers-reduced-motion: no-preference) { img { transition-duration: .15s; } }`);

  /** What is said to people, with its values: a catalogue finds it by its sentence. */
  const say = (sentence, values = {}) => sentence.replace(/{(\w+)}/g, (_, name) => values[name]);

  /** Why there is no answer. `status` is 0 where nothing came; `after` are the seconds that the answer asks to wait;
      `gone`: the service itself says that there is no such thing. */
  class Failure extends Error {
    constructor(url, status = 0, after = "", gone = false) {
      super(`${url}: ${status || "no answer"}`);
      const seconds = /^\d+$/.test(after) ? +after : (Date.parse(after) - Date.now()) / 1000;
      Object.assign(this, { url, status, gone, after: Math.max(0, seconds || 0) });
    }
  }

  /** The JSON of a good answer, or of a refusal of the service's own. Throws a `Failure`. */
  const ask = async (path, options) => {
    const url = new URL(path, base).href;
    const answer = await fetch(url, options).catch(() => { throw new Failure(url); });
    const body = await answer.json().catch(() => null);
    if (body && (answer.ok || (answer.status == 422 && body.code))) return { ok: answer.ok, body };
    throw new Failure(url, answer.ok ? 0 : answer.status, answer.headers.get("Retry-After") ?? "", answer.status == 404 && !!body?.code);
  };
  const known = {};
  /** A good answer, asked for once a page. Throws a `Failure`, which is forgotten. */
  const once = (path) => (known[path] ??= ask(path)
    .then(({ ok, body }) => ok ? body : Promise.reject(new Failure(new URL(path, base).href, 422)))
    .catch((error) => { delete known[path]; throw error; }));
  /** Waits so long, or until the network is back, the button is pressed or the signal given. */
  const pause = (seconds, button, signal) => new Promise((done) => {
    const ends = [[window, "online"], [button, "click"], [signal, "abort"]];
    const end = () => {
      clearTimeout(timer);
      for (const [target, name] of ends) target.removeEventListener(name, end);
      done();
    };
    for (const [target, name] of ends) target.addEventListener(name, end);
    const timer = seconds < Infinity && setTimeout(end, seconds * 1000);
  });
  const make = (tag, more, ...inside) => {
    const made = Object.assign(document.createElement(tag), more);
    made.append(...inside);
    return made;
  };
  /** What may be chosen; its `plain` title stays when a reason is written behind it. */
  const option = (title, value = title) => Object.assign(new Option(title, value), { plain: `${title}` });
  const bare = (text) => String(text).replaceAll(" ", "");
  const money = (amount, currency) => {
    try {
      return new Intl.NumberFormat(document.documentElement.lang || undefined, { style: "currency", currency }).format(amount);
    } catch { // a page whose language is no language
      return `${amount} ${currency}`;
    }
  };
  const priceText = ({ price, shown, tax, tax_title: title, currency }) => {
    if (price == null) return "";
    const sentence = !+tax ? "{price} ({title})" : shown == "net" ? "{price} plus {title} ({tax})" : "{price} including {title}";
    return say(sentence, { price: money(price, currency), tax: money(tax, currency), title });
  };

  class StrapDesign extends HTMLElement {
    #turn = new AbortController(); // of what is chosen now: the next change aborts it
    #detail = null;
    #note = ""; // what was asked for and is not offered
    #selects = {};
    #picture = make("img", { part: "picture" });
    #status = make("p", { role: "status", part: "status", tabIndex: -1 });
    #ways = make("div", { part: "remedies" });
    #again = make("button", { type: "button", textContent: say("Try again"), onclick: () => {
      this.#tell(say("Trying again…"));
      this.#status.focus();
    } });
    #path;
    #design;
    #form;

    connectedCallback() {
      if (this.shadowRoot) return;
      this.attachShadow({ mode: "open" }).append(make("slot"));
      this.shadowRoot.adoptedStyleSheets = [style];
      const early = Object.hasOwn(this, "choices") && this.choices; // said before this class was there
      delete this.choices;
      if (early) this.choices = early;
      const adopt = ({ name, value }) => { if (this.hasAttribute(name)) this.choices = { [name]: value }; }; // between the tags
      for (const each of this.querySelectorAll(":checked:not([selected])")) adopt(each.parentElement);
      this.addEventListener("change", ({ target }) => adopt(target));
      this.#start();
    }

    /** The detail of the last `strap-change`; null before the first. */
    get detail() {
      return this.#detail;
    }
    /** Whether what is chosen can be made; null while that is not known. */
    get made() {
      return this.#detail?.made ?? null;
    }
    get choices() {
      return Object.fromEntries(Object.entries(this.#selects).map(([name, select]) => [name, select.value]));
    }
    set choices(said) {
      if (!this.#design) for (const [name, text] of Object.entries(said)) this.setAttribute(name, text);
      else {
        const missed = Object.entries(said).filter((each) => !this.#pick(...each));
        this.#change();
        this.#miss(missed);
      }
    }

    async #start() {
      const { signal } = this.#turn;
      this.#path = `v1/designs/${encodeURIComponent(this.getAttribute("design"))}`;
      const paths = [this.#path, `${this.#path}/choices`];
      const [design, all] = await this.#persist(paths[0], () => Promise.all(paths.map(once)), signal, (...why) => this.#fail(...why));
      this.#form = make("form", { part: "form", onsubmit: () => false, onchange: () => this.#change() });
      for (const choice of design.choices) {
        const { name: id, title } = choice, select = make("select", { id, name: id }, ...this.#options(choice, all));
        this.#selects[id] = select;
        this.#form.append(make("div", {}, make("label", { htmlFor: id, textContent: title }), select));
        this.#pick(id, choice.default);
      }
      this.#design = design;
      const asked = design.choices.map(({ name }) => [name, this.getAttribute(name)]);
      this.#miss(asked.filter(([name, text]) => text != null && !this.#pick(name, text)));
      this.#settle(signal);
    }

    #options({ kind, values, from, to, step }, { makeable }) {
      if (kind == "length") return makeable.map(({ length, value }) => option(length, value));
      if (kind == "value") return values.map(({ title, value }) => option(title, value));
      return Array.from({ length: (to - from) / step + 1 }, (_, n) => option(from + n * step));
    }

    /** Chooses what has this value or title; whether there is such a thing. */
    #pick(name, text) {
      const found = [...(this.#selects[name]?.options ?? [])].find((each) => [each.value, each.plain].map(bare).includes(bare(text)));
      if (found) found.selected = true;
      return !!found;
    }

    /** Says what was asked for and is not offered, until something else is chosen. */
    #miss(missed) {
      this.#note = missed.map(([name, text]) => `${say("{name}: {text} is not offered here.", { name, text })} `).join("");
    }

    #chosen() {
      const { choices } = this;
      return { design: this.#design.name, choices, query: `${new URLSearchParams(choices)}` };
    }

    /** A choice was changed: from here on nothing is known of it, until it settles. */
    #change() {
      this.#turn.abort();
      const { signal } = this.#turn = new AbortController();
      this.#picture.classList.add("old");
      this.#note = "";
      this.#tell("");
      this.setAttribute("aria-busy", "true");
      this.#changed({ ...this.#chosen(), made: null });
      setTimeout(() => this.#settle(signal), 20);
    }

    /** Finds out all of what is chosen, and tells it at one time. */
    async #settle(signal) {
      if (signal.aborted) return;
      const { along, count, price: priced, choices: all } = this.#design, chosen = this.#chosen();
      const look = new URLSearchParams({ ...chosen.choices, view: "finished", background: "transparent" });
      const picture = new URL(`${this.#path}/pattern.svg?${look}`, base).href;
      const others = all.filter(({ name }) => ![along, count].includes(name)).map(({ name }) => [name, chosen.choices[name]]);
      const offers = `${this.#path}/choices?${new URLSearchParams(others)}`;
      const found = await this.#persist(`${this.#path}/pattern.json?${chosen.query}`, async (tries) => {
        if (this.#detail) this.setAttribute("aria-busy", "true");
        const options = { signal, cache: tries > 1 ? "no-cache" : "default" };
        const unseen = await this.#look(picture, signal).catch((error) => error);
        signal.throwIfAborted();
        const [{ ok: made, body: pattern }, offered] = await Promise.all([
          ask(`${this.#path}/pattern.json?${chosen.query}`, options), once(offers).catch((error) => error)]);
        if (made && unseen) throw unseen;
        return { made, pattern, offered, sums: made && priced ? await this.#sums(chosen.query, pattern, options) : {} };
      }, signal, (...why) => this.#fail(...why, picture));
      if (!found) return;
      const { made, pattern, offered, sums } = found, { code = null, sealed = null, shop = null } = made ? pattern : {};
      this.#unveil();
      this.#picture.classList.toggle("old", !made);
      this.#mark(offered, offers, signal);
      this.#tell(this.#note + (made ? priceText(sums) : pattern.reason ?? pattern.detail), pattern.remedies);
      if (this.#note) this.#fault({ message: this.#note.trim(), url: new URL(this.#path, base).href, status: 0 }, null);
      this.removeAttribute("aria-busy");
      this.#changed({ ...chosen, made, code, sealed, shop, price: null, ...sums, picture, pattern });
    }

    /** Price, net, tax and total of that very pattern; nothing where the shop has no price for it. Throws a `Failure`. */
    async #sums(query, pattern, options) {
      const path = `${this.#path}/price?${query}`, { ok, body: { sealed, shop, ...sums } } = await ask(path, options);
      if (ok && sealed == pattern.sealed && shop.digest == pattern.shop.digest) return sums;
      if (!ok && sums.code == "no_price") return {};
      throw new Failure(new URL(path, base).href, ok ? 0 : 422); // the shop file changed between the two
    }

    /** Does something until it is done: so many times, then whenever the buyer or the network says. Undefined if given up.
        Who waits is told so; `path` is what is told of where nothing comes. */
    async #persist(path, job, signal, fail) {
      for (let tries = 1; ; tries++) {
        let timer;
        const late = new Promise((_, reject) => {
          timer = setTimeout(() => reject(new Failure(new URL(path, base).href)), LONGEST_TRY * 1000);
        });
        const slow = setTimeout(() => { if (!signal.aborted) this.#status.textContent ||= say("One moment…"); }, PATIENCE * 1000);
        try {
          const found = await Promise.race([job(tries), late]);
          return signal.aborted ? undefined : found;
        } catch (error) {
          if (signal.aborted) return undefined;
          const { status = 0, after = 0 } = error, again = Math.max(after, 2 ** (tries - 1) * (1 + Math.random() / 4));
          const tired = error.gone || tries == TRIES || again > LONGEST_WAIT || (status < 500 && !PASSING.includes(status));
          fail(error, tired ? null : again);
          await pause(tired ? Infinity : again, this.#again, signal);
          if (signal.aborted) return undefined;
          if (tired) tries = 0;
        } finally {
          clearTimeout(timer);
          clearTimeout(slow);
        }
      }
    }

    /** Says what is missing, and that it is tried again or may be. */
    #fail(error, again, picture) {
      const shown = this.#picture.src, current = shown == picture;
      if (shown) this.#unveil();
      else this.shadowRoot.append(this.#status, this.#ways);
      const lack = say(!shown ? "This cannot be shown now" : current ? "Price and fit are not known yet" : "This picture is of the choice before");
      const why = say(error.gone ? "The shop does not offer it." : "The shop does not answer just now.");
      this.#tell(say(again ? "{lack}; trying again…" : "{lack}. {why}", { lack, why }));
      if (!again && !error.gone) this.#ways.append(this.#again);
      if (!again) this.removeAttribute("aria-busy");
      this.#fault(error, again);
    }

    #fault({ message, url, status }, again) {
      this.#send("strap-error", { design: this.getAttribute("design"), message, url, status, again });
    }

    #changed(detail) {
      this.#detail = detail;
      this.#send("strap-change", detail);
    }

    #send(name, detail) {
      this.dispatchEvent(new CustomEvent(name, { bubbles: true, composed: true, detail }));
    }

    /** Puts the element into the place of what stood between its tags. */
    #unveil() {
      if (this.#form.isConnected) return;
      this.shadowRoot.replaceChildren(this.#picture, this.#form, this.#status, this.#ways);
      this.replaceChildren();
    }

    /** Shows a picture once it is there. Throws a `Failure`. */
    async #look(src, signal) {
      if (this.#picture.src != src) {
        const chosen = this.#design.choices.map(({ name, title }) => say("{title}: {value}", { title, value: this.#selects[name].selectedOptions[0].plain }));
        await make("img", { src }).decode().catch(() => { throw new Failure(src); });
        if (signal.aborted) return;
        Object.assign(this.#picture, { src, alt: say("{title}. {choices}", { title: this.#design.title, choices: chosen.join("; ") }) });
      }
      this.#picture.classList.remove("old");
    }

    /** Says behind everything that cannot be had why; nothing, while that is not known. */
    async #mark(offers, path, signal) {
      const { along, count } = this.#design, failed = offers instanceof Error && [offers];
      if (failed) {
        this.#write(() => "");
        offers = await this.#persist(path, () => failed.length ? Promise.reject(failed.pop()) : once(path), signal, (...why) => this.#fault(...why));
        if (!offers) return;
      }
      const lines = Object.fromEntries(offers.makeable.map((line) => [line.value, line.withheld]));
      const why = (length, number) => lines[length]?.find(({ counts: [low, high] }) => low <= number && number <= high)?.reason;
      const { [along]: length, [count]: number = 0 } = this.choices;
      this.#write((name, value) => name == along ? why(value, +number) : name == count ? why(length, +value)
        : offers.withheld[name].find((each) => `${each.value}` == value)?.reason);
    }

    #write(reason) {
      for (const [name, { options }] of Object.entries(this.#selects)) for (const each of options) {
        const words = reason(name, each.value);
        each.text = words ? say("{title} – {reason}", { title: each.plain, reason: words }) : each.plain;
        each.className = words ? "withheld" : "";
      }
    }

    #tell(text, remedies = []) {
      this.#status.textContent = text;
      this.#ways.replaceChildren(...remedies.map(({ detail, changes }) => make("button", { type: "button", textContent: detail, onclick: () => {
        this.choices = Object.fromEntries(changes.map(({ parameter, text }) => [parameter, text]));
        this.#selects[changes[0].parameter].focus();
      } })));
    }
  }
  customElements.get("strap-design") || customElements.define("strap-design", StrapDesign);
})();
