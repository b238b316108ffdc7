/* Parts of pages are swapped by htmx. Here: the focus stays where it was, what is told without an
   answer, and what work that has ended leaves to be shown. */
"use strict";
(() => {
  const SAID = "button, a[href], input:not([type=hidden]), select, textarea, summary";
  const main = () => document.querySelector("main");
  const polls = event => event.detail.elt.hasAttribute("data-again");
  const where = at => JSON.stringify(
    [at.tagName, at.id, at.name, at.value, at.getAttribute("href"), at.closest("form")?.action]);
  let busy = false, was = null, opened = [];
  // Whoever has typed, opened a part or gone to a link in the page is left where they are.
  for (const kind of ["input", "focusin"]) {
    document.addEventListener(kind, event => { busy ||= main().contains(event.target); });
  }
  document.addEventListener("click", event => {
    busy ||= main().contains(event.target) && Boolean(event.target.closest("summary"));
  });
  const ready = () => { document.querySelector(".ready").hidden = false; };
  const show = () => htmx.ajax("GET", location.href, {target: "main", select: "main", swap: "outerHTML"});
  const text = markup => new DOMParser().parseFromString(markup, "text/html").body.textContent;
  document.addEventListener("htmx:beforeSwap", event => {
    const {detail} = event, {target} = detail;
    document.querySelectorAll("[data-unanswered], form > .fault[role=alert]").forEach(one => one.remove());
    was = document.activeElement === document.body ? null : where(document.activeElement);
    opened = [...target.querySelectorAll("details[open] > summary")].map(one => one.textContent);
    if (!polls(event)) return;
    const goesOn = detail.serverResponse.includes("data-again");
    if (target.id !== "working" && busy) {
      detail.shouldSwap = false;
      if (!goesOn) { detail.elt.remove(); ready(); }
    } else if (goesOn && target.id === "working") {
      const told = target.querySelector(".told");
      const now = new DOMParser().parseFromString(detail.serverResponse, "text/html").querySelector(".told");
      detail.shouldSwap = false;
      if (told && now && told.textContent !== now.textContent) told.textContent = now.textContent;
    } else if (goesOn) {
      detail.shouldSwap = text(detail.serverResponse) !== target.textContent;
    } else if (target.id === "working") {
      if (busy) ready(); else setTimeout(show, 0);
    }
  });
  const focused = part => {
    const bad = part.querySelector("[aria-invalid=true], form > .fault");
    if (bad) return bad;
    if (!was) return null;
    return [...document.querySelectorAll(SAID)].find(one => where(one) === was && one.checkVisibility())
      || part;
  };
  document.addEventListener("htmx:afterSettle", event => {
    const part = document.getElementById(event.detail.target.id) || event.detail.elt;
    part.querySelectorAll("details > summary").forEach(one => {
      one.parentElement.open ||= opened.includes(one.textContent);
    });
    const lost = document.activeElement === document.body || !document.activeElement;
    const isBad = part.querySelector("[aria-invalid=true], form > .fault");
    if (!lost && !isBad) return;
    const at = focused(part);
    if (!at) return;
    if (!at.matches(SAID) && !at.hasAttribute("tabindex")) at.setAttribute("tabindex", "-1");
    at.focus({preventScroll: !isBad && at === part});
  });
  document.addEventListener("htmx:sendError", event => {
    if (polls(event)) return;
    const told = document.getElementById("no-answer").firstElementChild.cloneNode(true);
    told.dataset.unanswered = "";
    event.detail.elt.prepend(told);
  });
})();
