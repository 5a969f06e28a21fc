// What a page can be asked without looking at it. Given to Playwright's evaluate: an object of
// functions, each of which gives sentences about what is wrong (or plain facts).
({
  shown(element) {
    const box = element.getBoundingClientRect();
    if (box.width <= 1 || box.height <= 1) return false; // for screen readers alone
    if (element.closest(".visually-hidden")) return false;
    if (box.right + scrollX <= 0 || box.bottom + scrollY <= 0) return false; // kept off the page
    return element.checkVisibility({ visibilityProperty: true, opacityProperty: true });
  },

  name(element) {
    const words = (element.getAttribute("aria-label") || element.textContent || element.name || "");
    const own = element.getAttribute("class");
    return element.tagName.toLowerCase() + (own ? "." + own : "") + " “" + words.trim().slice(0, 40) + "”";
  },

  // Text below `least` CSS pixels, drawn text as it comes out on the screen.
  smallTexts(least) {
    const found = new Set();
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
      const element = texts.currentNode.parentElement;
      if (!texts.currentNode.data.trim() || !this.shown(element)) continue;
      let size = parseFloat(getComputedStyle(element).fontSize);
      const matrix = element.getScreenCTM ? element.getScreenCTM() : null;
      if (matrix) size *= Math.hypot(matrix.a, matrix.b);
      if (size < least - 0.05) found.add(size.toFixed(1) + " px: " + this.name(element));
    }
    return [...found];
  },

  // What is pressed, smaller than `least`. A link in a line of text is as high as its line.
  smallTargets(least, selector) {
    const found = [];
    for (const element of document.querySelectorAll(selector)) {
      if (!this.shown(element) || getComputedStyle(element).display === "inline") continue;
      // A box with its label around it is pressed anywhere in the label.
      const target = element.closest("label") || element;
      const box = target.getBoundingClientRect();
      if (Math.min(box.width, box.height) < least - 0.5)
        found.push(Math.round(box.width) + " × " + Math.round(box.height) + ": " + this.name(element));
    }
    return found;
  },

  sideways() {
    const page = document.scrollingElement, width = document.documentElement.clientWidth;
    if (page.scrollWidth <= width) return [];
    const wide = [];
    for (const element of document.body.querySelectorAll("*")) {
      const inside = element.parentElement.closest(".wide"); // scrolls by itself, unless one is let out
      if (inside && getComputedStyle(element).position !== "absolute") continue;
      if (element.getBoundingClientRect().right > width + 1) wide.push(this.name(element));
    }
    return [page.scrollWidth + " px in " + width + " px", ...wide.slice(0, 5)];
  },

  headings() {
    const all = [...document.querySelectorAll("h1, h2, h3, h4, h5, h6")].filter((h) => this.shown(h));
    const levels = all.map((heading) => Number(heading.tagName[1]));
    const wrong = levels.filter((level) => level === 1).length === 1 ? [] : ["not one h1: " + levels];
    levels.forEach((level, n) => {
      if (n && level > levels[n - 1] + 1) wrong.push("h" + level + " after h" + levels[n - 1] + ": " + this.name(all[n]));
    });
    return wrong;
  },

  namelessPictures() {
    const wrong = [];
    for (const picture of document.querySelectorAll("img, svg:not(svg svg)")) {
      if (picture.tagName === "IMG" ? picture.hasAttribute("alt") : picture.closest("[aria-hidden=true]")) continue;
      const labelled = picture.getAttribute("aria-labelledby");
      const words = picture.getAttribute("aria-label") ||
        (labelled || "").split(" ").map((id) => document.getElementById(id)?.textContent || "").join(" ").trim();
      if (!words || !picture.hasAttribute("role")) wrong.push(this.name(picture));
    }
    return wrong;
  },

  // Regions that scroll by themselves must be reachable and named.
  muteScrollers() {
    const wrong = [];
    for (const element of document.querySelectorAll("main *")) {
      if (element.scrollWidth <= element.clientWidth + 1 || !this.shown(element)) continue;
      const style = getComputedStyle(element);
      if (!["auto", "scroll"].includes(style.overflowX)) continue;
      const named = element.hasAttribute("aria-label") || element.hasAttribute("aria-labelledby");
      if (element.tabIndex < 0 || !element.getAttribute("role") || !named)
        wrong.push(this.name(element));
    }
    return wrong;
  },

  // A script that the first picture would wait for.
  blockingScripts() {
    const all = [...document.querySelectorAll("script[src]:not([defer], [async], [type=module])")];
    return all.map((script) => script.src);
  },

  // The words of inputs and marks that are cut by their own box.
  cutTexts() {
    const wrong = [];
    for (const element of document.querySelectorAll("main *:not(svg *)")) {
      if (!this.shown(element) || getComputedStyle(element).overflowX !== "hidden") continue;
      if (element.scrollWidth > element.clientWidth + 1) wrong.push(this.name(element));
    }
    return wrong;
  },
})
