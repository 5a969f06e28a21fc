/* The night under pointer, finger or arrow keys: outlined, told in a card and to screen readers. */
(() => {
  "use strict";

  const QUIET_MS = 300; // of several nights in a row only the last is announced
  const charts = new WeakMap();
  const fill = (phrase, words) => phrase.replace(/\{\}/g, () => words.shift() ?? "");
  const put = (element, box) => {
    for (const [side, px] of Object.entries(box)) element.style[side] = px === null ? "" : `${px}px`;
  };

  class Chart {
    constructor(figure, data) {
      Object.assign(this, { figure, data, last: data.nights.length - 1 });
      this.stage = figure.querySelector(".chart-stage");
      this.cursor = figure.querySelector(".chart-night");
      this.card = figure.querySelector(".chart-card");
      this.status = figure.querySelector("[role=status]");
      const best = data.nights.findIndex((night) => night && night[5] === 1);
      this.index = best < 0 ? data.nights.findIndex(Boolean) : best;
      this.cursor.setAttribute("aria-valuemax", this.last);
      this.cursor.hidden = false;
      this.hide();
    }

    /* Where the nights are on the screen, in pixels. */
    get plot() {
      const pictures = [...this.stage.querySelectorAll("svg.picture")];
      const svg = pictures.find((picture) => picture.getClientRects().length) ?? pictures[0];
      const box = svg.getBoundingClientRect();
      const scale = box.width / svg.viewBox.baseVal.width;
      const [x, y, width, height, night] = svg.dataset.nights.split(" ").map((px) => px * scale);
      return { down: svg.matches(".down"), left: box.left + x, top: box.top + y, width, height, night };
    }

    /* The night at a place of the screen, or -1 outside the plot. */
    at(x, y) {
      const { down, left, top, width, height, night } = this.plot;
      const inside = x >= left && y >= top && x < left + width && y < top + height;
      return inside ? Math.floor((down ? y - top : x - left) / night) : -1;
    }

    get day() {
      return new Date(Date.parse(this.data.first) + this.index * 864e5);
    }

    get address() {
      const date = this.day.toISOString().slice(0, 10);
      return this.data.nights[this.index][6] ?? this.data.address.replace("{}", date);
    }

    /* Outline the night at `index`, or where that is missing the next that is there. */
    turnTo(index) {
      const wanted = Math.max(0, Math.min(this.last, index));
      let here = wanted;
      while (here in this.data.nights && !this.data.nights[here]) here += wanted < this.index ? -1 : 1;
      if (here in this.data.nights) this.index = here;
      const [date, usable] = this.data.nights[this.index];
      this.cursor.setAttribute("aria-valuenow", this.index);
      this.cursor.setAttribute("aria-valuetext", `${date}: ${fill(this.data.usable, [usable])}`);
      const { down, left, top, width, height, night } = this.plot;
      const box = this.stage.getBoundingClientRect();
      const [x, y, along] = [left - box.left + this.stage.scrollLeft, top - box.top, this.index * night];
      const across = { left: x + along, top: y, width: night, height };
      put(this.cursor, down ? { left: x, top: y + along, width, height: night } : across);
    }

    show(index, aloud) {
      this.turnTo(index);
      const [date, usable, [phrase, ...times], moon, remark, run] = this.data.nights[this.index];
      const data = this.data;
      const lines = [fill(data.phrases[phrase], times), fill(data.moon, [moon]), data.remarks[remark]];
      Object.assign(this.card.querySelector("a"), { textContent: date, href: this.address });
      this.card.querySelector("b").textContent = fill(this.data.usable, [usable]);
      this.card.querySelectorAll("p + p").forEach((line, n) => (line.textContent = lines[n]));
      this.card.classList.toggle("wanted", run > 0);
      this.card.hidden = false;
      this.cursor.classList.remove("idle");
      this.besideNight();
      clearTimeout(this.waiting);
      if (aloud) this.waiting = setTimeout(() => (this.status.textContent = lines.join(" ")), QUIET_MS);
    }

    /* To the right of the night or else to its left; on a phone the style decides. */
    besideNight() {
      const [{ down, left, top, night }, box] = [this.plot, this.figure.getBoundingClientRect()];
      const start = left - box.left + this.index * night;
      const [before, after] = [start - 10 - this.card.offsetWidth, start + night + 10];
      const x = after + this.card.offsetWidth <= box.width ? after : Math.max(0, before);
      put(this.card, down ? { left: null, top: null } : { left: x, top: top - box.top + 6 });
    }

    hide() {
      clearTimeout(this.waiting);
      this.card.hidden = true;
      this.cursor.classList.add("idle");
      this.turnTo(this.index); // where the keyboard will find it
    }

    /* Do what a key says, and tell whether it said anything. */
    key(name) {
      const [before, after] = [this.index - 1, this.index + 1];
      const there = (months) => this.day.setUTCMonth(this.day.getUTCMonth() + months);
      const month = (by) => this.index + (there(by) - this.day) / 864e5;
      const places = { ArrowLeft: before, ArrowRight: after, Home: 0, End: this.last };
      Object.assign(places, { PageUp: month(-1), PageDown: month(1) });
      if (this.plot.down) Object.assign(places, { ArrowUp: before, ArrowDown: after });
      if (name === "Enter") location.assign(this.address);
      else if (name in places) this.show(places[name], true);
      return name === "Enter" || name in places;
    }
  }

  /* The charts that are there now: parts of a page come and go. */
  const all = () => [...document.querySelectorAll("figure.chart:has(.chart-card)")].map((figure) => {
    const data = () => JSON.parse(figure.querySelector("script").textContent);
    if (!charts.has(figure)) charts.set(figure, new Chart(figure, data()));
    return charts.get(figure);
  });

  /* A mouse reads by hovering and opens by a click; a finger reads by a tap and opens by the card. */
  const point = ({ type, target, pointerType, clientX, clientY }) => {
    const mouse = pointerType === "mouse";
    for (const chart of mouse || type === "click" ? all() : []) {
      if (chart.card.contains(target)) continue;
      const index = chart.stage.contains(target) ? chart.at(clientX, clientY) : -1;
      if (index >= 0) chart.show(index, !mouse);
      else if (!chart.card.hidden && document.activeElement !== chart.cursor) chart.hide();
      if (index >= 0 && mouse && type === "click") location.assign(chart.address);
    }
  };
  document.addEventListener("pointermove", point);
  document.addEventListener("click", point);
  document.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    for (const chart of all()) {
      if (event.key === "Escape") chart.hide();
      else if (event.target === chart.cursor && chart.key(event.key)) event.preventDefault();
    }
  });
  document.addEventListener("focusin", ({ target }) => {
    for (const chart of all()) {
      if (target === chart.cursor) chart.show(chart.index, true);
      else if (!chart.card.contains(target)) chart.hide();
    }
  });
  addEventListener("resize", () => all().forEach((chart) => chart.hide()));
  document.addEventListener("htmx:load", all);
  all();
})();
