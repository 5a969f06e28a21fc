/* The brief in the hand. From the meeting until everybody is home what is now comes first and what
   is past folds; by night the red look is chosen unless the reader chose. Without it the page is
   whole, in the order of home. Nodes are moved, so that what is seen and what is told are one. */
(() => {
  // What is read on the way there, and not out there.
  const BEFORE = ["meet", "bring", "way", "permit", "second"];
  const EVERY_MS = 60_000;
  const JUST_NOW_S = 15 * 60;
  const BOX = "brief look";

  const root = document.documentElement;
  const page = document.querySelector("main.brief");
  const words = page.querySelector("[data-words]").dataset;
  const inTheField = page.dataset.order.split(" ");
  const firstParts = page.querySelector(".first-parts");
  const rest = page.querySelector(".rest");
  const atHome = [firstParts, rest].map((box) => [box, [...box.children]]);
  const plain = new Map([...page.querySelectorAll(".part")].map((part) => [part, part.innerHTML]));
  const format = new Intl.DateTimeFormat("en-GB", {
    hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZone: page.dataset.zone,
  });

  const seconds = () => Date.now() / 1000;
  const clock = (at) => format.format(at * 1000);
  // As the site's clock is written everywhere: to the nearest minute.
  const rounded = (at) => clock(Math.round(at / 60) * 60);

  function made(tag, kind, ...inside) {
    const element = document.createElement(tag);
    if (kind) element.className = kind;
    element.append(...inside);
    return element;
  }

  // Looks

  function chosen() {
    try {
      return JSON.parse(localStorage.getItem(BOX));
    } catch {
      return null;
    }
  }

  function show(look) {
    if (look) root.dataset.look = look;
    else delete root.dataset.look;
    for (const link of document.querySelectorAll("[data-look-to]")) {
      if (link.dataset.lookTo === look) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
  }

  // What the server offers by its own clock is nobody's choice.
  const fromServer = "offered" in root.dataset ? "" : root.dataset.look ?? "";

  function dress() {
    const own = chosen();
    const isStored = "stored" in root.dataset;
    if (own && (!own.told || isStored || !fromServer)) return show(own.look);
    if (fromServer) return show(fromServer);
    const now = seconds();
    // Who comes home late, or not yet, is not blinded: red until the picture of the night ends.
    const strip = page.querySelector("svg.brief-night");
    const light = Math.max(page.dataset.home, strip?.dataset.to ?? 0);
    show(now >= page.dataset.sunset && now < light ? "night" : "");
  }

  async function tell(look) {
    const keep = (told) => localStorage.setItem(BOX, JSON.stringify({ look, told }));
    keep(false);
    try {
      const answer = await fetch(`?look=${look}`, { redirect: "manual" });
      if (answer.type === "opaqueredirect") keep(true);
    } catch { /* without signal the phone remembers it alone */ }
  }

  document.querySelector(".thumb").addEventListener("click", (event) => {
    const look = event.target.closest("[data-look-to]")?.dataset.lookTo;
    if (!look) return;
    event.preventDefault();
    show(look);
    tell(look);
  });

  // What a link leads to is not left folded.
  page.addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#"]');
    const box = link && document.querySelector(`${link.getAttribute("href")} > details`);
    if (box) box.open = true;
  });

  // The order of the field

  function home() {
    for (const made of page.querySelectorAll("#now, #over")) made.remove();
    page.classList.remove("is-field");
    for (const [part, inside] of plain) part.innerHTML = inside;
    for (const [box, parts] of atHome) box.replaceChildren(...parts);
  }

  function entries() {
    const all = [...page.querySelectorAll(".rows > li")].map((item) => ({
      item,
      from: Number(item.dataset.from),
      to: Number(item.dataset.to ?? 0),
      clock: item.querySelector("time").textContent,
      words: item.querySelector("span").textContent,
      kind: item.className,
    }));
    for (const one of all) one.ends = one.to || all.find((next) => next.from > one.from)?.from || Infinity;
    return all;
  }

  function settings(said) {
    const pieces = said.split(", ");
    if (pieces.length !== 3) return made("p", "asked", made("b", "", said));
    pieces[2] = pieces[2].replace(/^\D+/, "");
    const names = [words.shutter, words.aperture, words.iso];
    return made("dl", "settings", ...pieces.map((piece, n) =>
      made("div", "", made("dt", "", names[n]), made("dd", "", piece))));
  }

  function line(name, at, said) {
    const told = made("span", "", said);
    told.dir = "auto";
    return made("li", "", made("b", "", at ? `${name} ${at}` : name), " ", told);
  }

  function nowBlock(rows, now) {
    const running = rows.filter((row) => row.from <= now && now < row.ends);
    const main = running.findLast((row) => row.kind === "target")
      ?? running.findLast((row) => row.kind === "turn")
      ?? rows.findLast((row) => row.from <= now) ?? rows[0];
    const block = made("section", "part");
    block.id = "now";
    const until = Number.isFinite(main.ends) ? `, ${words.until.replace("{}", rounded(main.ends))}` : "";
    const title = made("h2", "", main.words.replace(/^\d+ /, ""));
    title.dir = "auto";
    block.append(made("p", "now-clock", made("b", "", `${words.now} ${clock(now)}`), until));
    // A turn is over soon and is nobody else's: it stands above what all are doing.
    const turn = running.find((row) => row.kind === "turn" && row !== main);
    if (turn) block.append(made("p", "my-turn", turn.words, `, ${words.until.replace("{}", rounded(turn.ends))}`));
    block.append(title);
    const target = main.kind === "target"
      && page.querySelector(`.target[data-from="${main.from}"][data-to="${main.to}"]`);
    if (target) {
      const direction = target.querySelector(".direction").cloneNode(true);
      const said = target.querySelector(".asked")?.textContent;
      block.append(direction, ...(said ? [settings(said)] : []));
      const tracked = turn && target.querySelector(".tracked");
      if (tracked) block.append(tracked.cloneNode(true));
    }
    const also = running.filter((row) =>
      row !== main && row !== turn && (row.to || now - row.from < JUST_NOW_S) && row.kind !== "meet");
    const coming = rows.filter((row) => row.from > now && row.kind !== "leave");
    const back = rows.find((row) => row.kind === "leave");
    const list = made("ul", "", ...also.map((row) => line(words.now, "", row.words)));
    const names = [words.next, words.then];
    coming.slice(0, 2).forEach((row, n) => list.append(line(names[n], row.clock, row.words)));
    if (back && back.from > now) list.append(line(words.back, back.clock, back.words));
    block.append(list);
    return block;
  }

  function folded(title, state, ...inside) {
    const summary = made("summary", "", made("span", "", title), made("span", "state", state));
    return made("details", "noprint folded", summary, ...inside);
  }

  function foldRows(rows, now) {
    const past = rows.filter((row) => row.ends <= now);
    const list = page.querySelector(".rows");
    if (past.length) {
      const title = `${words.earlier}: ${past[0].clock} – ${past.at(-1).clock}`;
      list.before(folded(title, words.past, made("ol", "rows", ...past.map((row) => row.item))));
    }
    list.firstElementChild?.classList.add("is-now");
  }

  function foldTargets(now) {
    const all = [...page.querySelectorAll("article.target")];
    const past = all.filter((target) => target.dataset.to <= now);
    for (const target of past) {
      const box = folded(target.querySelector("h3").textContent, words.past);
      target.parentElement.append(box);
      box.append(target);
    }
    const others = page.querySelector(".not-tonight");
    if (others) {
      const box = folded(words.others, words.open);
      others.replaceWith(box);
      box.append(others);
    }
    if (past.length < all.length) page.querySelector("#targets h2").textContent = words.targets;
  }

  function foldSkies(now) {
    const all = [...page.querySelectorAll("figure.sky")];
    const shown = all.find((sky) => Number(sky.dataset.from) >= now) ?? all.at(-1);
    for (const sky of all.filter((one) => one !== shown)) {
      const state = sky.dataset.from < now ? words.past : words.open;
      const box = folded(sky.querySelector("h3").textContent, state);
      sky.parentElement.append(box);
      box.append(sky);
    }
  }

  function foldDangers() {
    const [, ...more] = page.querySelectorAll("#dangers .caution > p:not(.onward)");
    if (more.length > 1) {
      page.querySelector("#dangers .caution > p").after(folded(words.dangers, words.open, ...more));
    }
  }

  function foldPart(name, state) {
    const part = document.getElementById(name);
    if (!part) return;
    const box = folded(part.querySelector("h2").textContent, state);
    box.append(...part.childNodes);
    part.append(box);
  }

  function foldParts(rows, now) {
    for (const kind of ["focus", "foreground", "turn"]) {
      const own = rows.filter((row) => row.kind === kind);
      if (own.length && own.every((row) => row.ends <= now)) foldPart(kind, words.past);
    }
    if (!rows.some((row) => row.kind === "turn" && row.ends > now)) foldPart("tracker", words.open);
    const begun = rows.find((row) => row.kind === "target");
    if (begun && begun.from <= now) foldPart("first", begun.ends <= now ? words.past : words.open);
    BEFORE.forEach((name) => foldPart(name, name === "meet" ? words.past : words.open));
  }

  function markNow(now) {
    const strip = page.querySelector("svg.brief-night");
    if (!strip) return;
    const { from, to } = strip.dataset;
    const x = (now - from) / (to - from) * strip.viewBox.baseVal.width;
    strip.querySelector(".now").setAttribute("d", `M${x.toFixed(0)} -14v90`);
  }

  function field(now) {
    home();
    page.classList.add("is-field");
    const rows = entries();
    const parts = inTheField.map((name) => document.getElementById(name)).filter(Boolean);
    if (rows.length) firstParts.before(nowBlock(rows, now));
    firstParts.append(...parts);
    foldDangers();
    foldTargets(now);
    foldSkies(now);
    foldRows(rows, now);
    foldParts(rows, now);
    markNow(now);
  }

  // Who still needs help finds it first; the meeting is told no longer as if it were to come.
  function over() {
    if (page.querySelector("#over")) return;
    const said = made("p", "caution", made("b", "", words.over), " ", words.after);
    said.id = "over";
    firstParts.before(said);
    firstParts.prepend(...page.querySelectorAll("#help"));
    page.querySelector(".decided")?.remove();
    foldPart("meet", words.past);
  }

  let isField = false;
  let told = "";

  function arrange() {
    const now = seconds();
    dress();
    const isOff = page.querySelector(".decided.no_go");
    const is = !isOff && now >= page.dataset.meet && now < page.dataset.home;
    if (!is) {
      if (isField) home();
      isField = false;
      if (!isOff && now >= page.dataset.home) over();
      return;
    }
    // What somebody has unfolded stays so until there is something else to say.
    const state = entries().map((row) => [row.from <= now, row.ends <= now]).join();
    const minute = page.querySelector(".now-clock b");
    if (isField && state === told) {
      minute.textContent = `${words.now} ${clock(now)}`;
      markNow(now);
      return;
    }
    field(now);
    [isField, told] = [true, state];
  }

  arrange();
  setInterval(arrange, EVERY_MS);
  document.addEventListener("visibilitychange", () => document.hidden || arrange());
  addEventListener("beforeprint", home);
  addEventListener("afterprint", () => { isField = false; arrange(); });
})();
