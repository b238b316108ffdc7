/* A page of work that goes on asks for itself again, and puts in what is new, so that nobody is led
   away from what is read or typed. Without this a browser loads such a page again by itself. */
"use strict";
(() => {
  const waits = page => page.querySelector("script[data-again]");
  const script = waits(document);
  if (!script) return;
  const pause = Number(script.dataset.again) * 1000;
  const main = () => document.querySelector("main");
  // Whoever has typed, opened a part or gone to a link in the page is left where they are.
  let busy = false;
  for (const kind of ["input", "focusin"]) {
    document.addEventListener(kind, event => { busy ||= main().contains(event.target); });
  }
  document.addEventListener("click", event => {
    busy ||= main().contains(event.target) && Boolean(event.target.closest("summary"));
  });
  const put = page => {
    const told = document.querySelector(".told"), now = page.querySelector(".told");
    if (waits(page) && told && now) {
      if (told.textContent !== now.textContent) told.textContent = now.textContent;
    } else if (busy) {
      document.querySelector(".ready").hidden = waits(page) !== null;
    } else {
      main().replaceWith(document.importNode(page.querySelector("main"), true));
      document.title = page.title;
    }
    return Boolean(waits(page));
  };
  const look = async () => {
    let goesOn = true;
    try {
      const answer = await fetch(location.href, {headers: {Accept: "text/html"}});
      // A question that cannot be answered says so on its page. Who is led to signing in goes there by a link.
      if (answer.redirected) {
        document.querySelector(".ready").hidden = false;
        goesOn = false;
      } else if (answer.ok || answer.status === 422) {
        goesOn = put(new DOMParser().parseFromString(await answer.text(), "text/html"));
      }
    } catch {
      // No signal for a moment: asked again.
    }
    if (goesOn) setTimeout(look, pause);
  };
  setTimeout(look, pause);
})();
