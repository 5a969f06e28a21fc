/* Marks of a head count live on the phone first, and are sent when there is signal. */
(() => {
  "use strict";

  const page = document.querySelector(".count-page");
  const box = `marks ${location.pathname} ${page.dataset.night}`;
  const refusedBox = `refused ${box}`;
  const AGAIN_MS = 20_000;
  const MOST_SENT = 1000;
  const LIST = { here: "here", left: "left", not_here: "still" };
  let sending = false;

  const read = (name) => JSON.parse(localStorage.getItem(name) ?? "[]");
  const write = (name, marks) => localStorage.setItem(name, JSON.stringify(marks));
  const kept = () => read(box);
  const keep = (marks) => write(box, marks);
  const fresh = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 15) | 64;
    bytes[8] = (bytes[8] & 63) | 128;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  };

  const hour = (at) => (Date.parse(at) ? new Date(at).toTimeString().slice(0, 5) : "");

  /* Put a person into the list that a mark says, and count anew. */
  function show(mark) {
    const item = document.getElementById(mark.who);
    if (!item) return;
    item.dataset.state = LIST[mark.kind];
    item.querySelector("[data-last]").textContent = hour(mark.at);
    document.querySelector(`[data-list="${LIST[mark.kind]}"] .names`).append(item);
  }

  function count() {
    const lists = document.getElementById("lists");
    const many = (name) => lists.querySelectorAll(`[data-list="${name}"] li`).length;
    const ending = many("left") > 0 || lists.dataset.ending === "1";
    lists.dataset.ending = ending ? "1" : "";
    lists.querySelector("[data-number]").textContent = many("here");
    lists.querySelector("[data-words-here]").hidden = ending;
    lists.querySelector("[data-words-left]").hidden = !ending;
    lists.querySelector("[data-still-number]").textContent = many("still");
    lists.querySelector("[data-still-line]").hidden = many("still") === 0;
    for (const list of lists.querySelectorAll("[data-list]")) {
      list.hidden = list.querySelectorAll("li").length === 0;
    }
  }

  function tell(words) {
    page.querySelector("[data-kept]").textContent = words;
  }

  function waiting() {
    const words = page.querySelector("template").content.querySelector("[data-words]").dataset;
    const many = kept().length;
    if (many === 0) tell(words.sent);
    else tell((many === 1 ? words.one : words.many).replace("{}", many));
  }

  /* What the service did not keep is said until it is counted again or put away. */
  function tellRefused() {
    const words = page.querySelector("template").content.querySelector("[data-words]").dataset;
    const marks = read(refusedBox);
    const section = page.querySelector("[data-refused]");
    section.hidden = marks.length === 0;
    section.querySelector("ul").replaceChildren(
      ...marks.map(({ name, kind, at, why }) => {
        const item = document.createElement("li");
        const who = document.createElement("bdi");
        who.textContent = name;
        item.append(who, `: ${[words[kind] ?? kind, hour(at)].join(" ").trim()}. ${why}`);
        return item;
      }),
    );
  }

  function settle(taken, refused) {
    const done = new Set(taken);
    const why = new Map(refused.map((one) => [one.uid, one.why]));
    const told = (mark) => why.get(mark.uid ?? null);
    const back = kept().filter(told).map((mark) => ({ ...mark, why: told(mark) }));
    write(refusedBox, [...read(refusedBox), ...back]);
    keep(kept().filter((mark) => !done.has(mark.uid) && !told(mark)));
  }

  function replay() {
    for (const mark of kept()) show(mark);
    count();
    waiting();
    tellRefused();
  }

  async function send() {
    if (sending || kept().length === 0) return;
    sending = true;
    let made = false; // a mark while these were on their way
    try {
      const ticks = kept().slice(0, MOST_SENT);
      const answer = await fetch(page.dataset.post, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ ticks }),
      });
      if (!answer.ok) throw new Error(answer.status);
      const { kept: taken, refused, lists } = await answer.json();
      settle(taken, refused);
      made = kept().some((mark) => ticks.every((sent) => sent.uid !== mark.uid));
      document.getElementById("lists").outerHTML = lists;
      replay();
      fetch(location.href).catch(() => {}); // the page that is kept for later says it too
    } catch {
      waiting();
    } finally {
      sending = false;
      if (made) send();
    }
  }

  page.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.elements.who) return;
    event.preventDefault();
    const mark = {
      uid: fresh(),
      who: form.elements.who.value,
      name: form.closest("li").querySelector("strong").textContent,
      kind: event.submitter.value,
      at: new Date().toISOString(),
    };
    keep([...kept(), mark]);
    write(refusedBox, read(refusedBox).filter((one) => one.who !== mark.who));
    replay();
    send();
  });
  page.querySelector("[data-put-away]").addEventListener("click", () => {
    write(refusedBox, []);
    tellRefused();
  });
  page.addEventListener("click", (event) => {
    if (!event.target.matches("[data-leaving]")) return;
    event.preventDefault();
    page.dataset.post += "&leaving=1";
    document.getElementById("lists").dataset.ending = "1";
    count();
  });
  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => document.hidden || send());
  setInterval(send, AGAIN_MS);
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.register(page.dataset.worker, { scope: location.pathname });
  }
  replay();
  send();
})();
