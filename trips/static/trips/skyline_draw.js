/* Drawing a skyline on its picture, by pointer or by keys. It writes lines of text, and nothing
   else: what they mean is read on the server. */
(() => {
  "use strict";

  const board = document.querySelector(".drawing");
  const text = document.querySelector("textarea[name=skyline]");
  if (!board || !text) return;

  const NUMBER = "([-+\u2212]?\\d*[.,]?\\d+)";
  const LINE = new RegExp(`^${NUMBER}°?(?:\\s*;\\s*|,?\\s+)${NUMBER}°?$`);
  const FINE = 0.5; // of an altitude drawn by hand, in degrees; azimuths are whole
  const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, FINE], ArrowDown: [0, -FINE] };
  const slider = board.querySelector("[role=slider]");
  const status = board.querySelector("[role=status]");
  const number = (typed) => parseFloat(typed.replace("\u2212", "-").replace(",", "."));
  const round = (azimuth) => ((Math.round(azimuth) % 360) + 360) % 360;
  const clamp = (altitude) => Math.max(-90, Math.min(90, Math.round(altitude / FINE) * FINE));

  /* The lines of the text as [azimuth, altitude], sorted; null where one cannot be read. */
  const read = () => {
    const lines = text.value.split("\n").map((line) => line.trim()).filter(Boolean);
    const found = lines.map((line) => LINE.exec(line));
    if (!found.every(Boolean)) return null;
    const points = found.map(([, azimuth, altitude]) => [number(azimuth) % 360, number(altitude)]);
    return points.sort((one, other) => one[0] - other[0]);
  };

  const write = (points) => {
    const sorted = points.sort((one, other) => one[0] - other[0]);
    text.value = sorted.map(([azimuth, altitude]) => `${+azimuth.toFixed(6)} ${+altitude.toFixed(6)}`).join("\n");
    draw(sorted);
  };

  /* The points without those from one azimuth to another, the shorter way round. */
  const without = (points, from, to) => {
    const turn = ((to - from + 540) % 360) - 180;
    const start = turn < 0 ? to : from;
    return points.filter(([azimuth]) => (azimuth - start + 360) % 360 > Math.abs(turn));
  };

  /* The altitude of the skyline toward an azimuth: straight between points, across north too. */
  const heightAt = (points, azimuth) => {
    if (!points.length) return 0;
    const after = points.find((point) => point[0] >= azimuth) ?? points[0];
    const before = points.findLast((point) => point[0] < azimuth) ?? points.at(-1);
    const gap = (after[0] - before[0] + 360) % 360 || 360;
    return before[1] + (((azimuth - before[0] + 360) % 360) / gap) * (after[1] - before[1]);
  };

  class Panel {
    constructor(picture, plot, heights, places) {
      const [x, y, width, height, first, span] = places.split(" ").map(Number);
      const [low, high] = heights.split(" ").map(Number);
      Object.assign(this, { picture, plot, x, y, width, height, first, span, low, high });
      const path = (name) => {
        const made = document.createElementNS("http://www.w3.org/2000/svg", "path");
        made.setAttribute("class", name);
        return plot.appendChild(made);
      };
      this.points = path("drawn-points");
      this.cursor = path("cursor");
    }

    across(azimuth) {
      return +(((azimuth - this.first) * this.width) / this.span).toFixed(1);
    }

    up(altitude) {
      return +(((this.high - altitude) * this.height) / (this.high - this.low)).toFixed(1);
    }

    /* What stands at a place of the screen, or null outside the plot. */
    at(clientX, clientY, isOutside) {
      const box = this.picture.getBoundingClientRect();
      const scale = this.picture.viewBox.baseVal.width / box.width;
      const x = (clientX - box.left) * scale - this.x;
      const y = (clientY - box.top) * scale - this.y;
      const inside = x >= 0 && x <= this.width && y >= 0 && y <= this.height;
      if (!inside && !isOutside) return null;
      const across = Math.max(0, Math.min(this.width, x));
      const azimuth = round(this.first + (across * this.span) / this.width);
      return [azimuth, clamp(Math.min(this.high, this.high - (y * (this.high - this.low)) / this.height))];
    }

    draw(points) {
      const first = this.first % 360;
      const ends = [first, first + this.span].map((azimuth) => [azimuth, heightAt(points, azimuth % 360)]);
      const inner = [0, 360].flatMap((turn) => points.map(([azimuth, altitude]) => [azimuth + turn, altitude]))
        .filter(([azimuth]) => azimuth > ends[0][0] && azimuth < ends[1][0]);
      const places = [ends[0], ...inner, ends[1]]
        .map(([azimuth, altitude]) => `${this.across(azimuth + this.first - first)} ${this.up(altitude)}`);
      const edge = `M${places.join("L")}`;
      this.plot.querySelector(".edge").setAttribute("d", edge);
      this.plot.querySelector(".land").setAttribute("d", `${edge}V${this.height}H0z`);
      const dots = inner.map(([azimuth, altitude]) => `M${this.across(azimuth + this.first - first)} ${this.up(altitude)}h0`);
      this.points.setAttribute("d", dots.length <= 90 ? dots.join("") : "");
      this.plot.querySelector(".t-note")?.setAttribute("visibility", points.length ? "hidden" : "visible");
    }

    point(azimuth, altitude) {
      const x = this.across(this.first + ((azimuth - this.first) % 360 + 360) % 360);
      const y = this.up(altitude);
      this.cursor.setAttribute("d", `M${x} 0V${this.height}M${x - 8} ${y}h16`);
    }
  }

  const panels = [...board.querySelectorAll("svg.picture")].flatMap((picture) => {
    const plots = [...picture.querySelectorAll("svg")];
    const { panels: places, heights } = picture.dataset;
    return places.split(";").map((place, n) => new Panel(picture, plots[n], heights, place));
  });
  const draw = (points) => panels.forEach((panel) => panel.draw(points));

  let here = [round(panels[0].first + panels[0].span / 2), 0]; // where the keyboard is
  const say = (words = "") => {
    const [azimuth, altitude] = here;
    const where = board.dataset.says.replace("{azimuth}", azimuth).replace("{altitude}", altitude);
    slider.setAttribute("aria-valuenow", azimuth);
    slider.setAttribute("aria-valuetext", where);
    slider.querySelector(".drawing-where").textContent = where;
    status.textContent = words && `${where}: ${words}`;
    panels.forEach((panel) => panel.point(...here));
  };
  const readOrSay = () => {
    const points = read();
    if (!points) status.textContent = board.dataset.unreadable;
    return points;
  };

  /* Put a line from one place to another, a point a degree; everything between them goes. */
  const set = (from, to) => {
    const points = readOrSay();
    if (!points) return;
    const turn = ((to[0] - from[0] + 540) % 360) - 180;
    const steps = Math.max(1, Math.abs(turn));
    const drawn = Array.from({ length: steps + 1 }, (_, n) => n / steps)
      .map((share) => [round(from[0] + share * turn), clamp(from[1] + share * (to[1] - from[1]))]);
    const fresh = new Map(turn ? drawn : [to]);
    here = to;
    write([...without(points, from[0], to[0]), ...fresh]);
    say(board.dataset.set);
  };

  /* Do what a key says, and tell whether it said anything. */
  const key = ({ key: name, shiftKey }) => {
    if (name in STEPS) {
      const [right, up] = STEPS[name].map((step) => (shiftKey ? step * (step % 1 ? 20 : 10) : step));
      here = [round(here[0] + right), clamp(here[1] + up)];
      if (right) here[1] = clamp(heightAt(read() ?? [], here[0]));
      say();
    } else if (name === "Home" || name === "End") {
      here = [name === "Home" ? 0 : 359, here[1]];
      say();
    } else if (name === "Enter" || name === " ") set(here, here);
    else if (name === "Delete" || name === "Backspace") {
      const points = readOrSay();
      if (points) write(without(points, here[0], here[0]));
      if (points) say(board.dataset.taken);
    } else return false;
    return true;
  };

  slider.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === "Escape") slider.blur();
    else if (key(event)) event.preventDefault();
  });
  slider.addEventListener("focus", () => say());
  slider.addEventListener("blur", () => panels.forEach((panel) => panel.cursor.setAttribute("d", "")));

  let drawing = null; // the panel that is drawn on, and where the pointer was last
  board.addEventListener("pointerdown", (event) => {
    if (event.button) return;
    const panel = panels.find((one) => one.plot.getClientRects().length && one.at(event.clientX, event.clientY));
    if (!panel) return;
    drawing = { panel, last: panel.at(event.clientX, event.clientY) };
    panel.picture.setPointerCapture(event.pointerId);
    set(drawing.last, drawing.last);
  });
  board.addEventListener("pointermove", ({ clientX, clientY }) => {
    if (!drawing) return;
    const now = drawing.panel.at(clientX, clientY, true);
    if (now[0] === drawing.last[0] && now[1] === drawing.last[1]) return;
    set(drawing.last, now);
    drawing.last = now;
  });
  for (const end of ["pointerup", "pointercancel"]) board.addEventListener(end, () => (drawing = null));

  /* What cannot be read, as while a line is typed, leaves the picture as it was. */
  const follow = () => {
    const points = read();
    if (points) draw(points);
  };
  text.addEventListener("input", follow);
  board.querySelector(".drawing-tools").hidden = false;
  follow();
  say();
  panels.forEach((panel) => panel.cursor.setAttribute("d", ""));
})();
