/* A stack of the drawn yard is dragged, turned and widened, or moved by keys; the form of the page
   is filled in and sent, so that all of it can be done without this too. */
"use strict";
const begin = () => {
  const map = document.querySelector(".yardmap"), form = document.getElementById("place-form");
  if (!map || !form || map.dataset.begun) return;
  map.dataset.begun = "yes";
  document.querySelectorAll(".scripted").forEach(one => { one.hidden = false; });
  const says = document.getElementById("moving");
  const deep = Number(map.dataset.deep), per = Number(map.dataset.per);
  const round = value => Math.round(value * 10) / 10;
  const read = link => {
    const [x, y, turn] = link.querySelector(".stack").getAttribute("transform")
      .match(/-?[\d.]+/g).map(Number);
    return {x, y, turn, wide: Number(link.dataset.wide), high: Number(link.dataset.high)};
  };
  const begun = new Map();
  const at = link => {
    if (!begun.has(link)) begun.set(link, {...read(link)});
    return link.now || (link.now = read(link));
  };
  const show = link => {
    const now = at(link), was = begun.get(link);
    now.x = Math.max(0, now.x);
    now.y = Math.min(deep, now.y);
    link.querySelector(".stack").setAttribute(
      "transform", `translate(${round(now.x)} ${round(now.y)}) rotate(${now.turn})`);
    link.querySelector(".label").setAttribute(
      "transform", `translate(${round(now.x - was.x)} ${round(now.y - was.y)})`);
    says.textContent = `${round(now.x * per)} east, ${round((deep - now.y) * per)} north, ` +
      `turned ${now.turn} degrees, ${now.wide} rows, ${now.high} high`;
  };
  const send = link => {
    const now = at(link), gap = Number(link.dataset.gap) * per;
    const put = (name, value) => { form.elements[name].value = value; };
    put("lot", link.dataset.lot);
    put("east_m", round(now.x * per));
    put("north_m", round((deep - now.y) * per));
    put("turn_deg", ((Math.round(now.turn) % 360) + 360) % 360);
    put("wide", now.wide);
    put("high", now.high);
    put("gap_m", gap ? round(gap) : "");
    form.requestSubmit();
  };
  const spot = event => new DOMPoint(event.clientX, event.clientY)
    .matrixTransform(map.getScreenCTM().inverse());
  let held = null;
  map.addEventListener("pointerdown", event => {
    const link = event.target.closest("a[data-lot]");
    if (!link || event.button || !event.target.closest(".stack")) return;
    const from = spot(event), now = at(link);
    held = {link, from, was: {...now}, how: event.target.dataset.handle || "move", moved: false};
    map.setPointerCapture(event.pointerId);
    event.preventDefault();
    link.focus({preventScroll: true});
  });
  map.addEventListener("pointermove", event => {
    if (!held) return;
    const to = spot(event), now = at(held.link), {from, was} = held;
    held.moved = held.moved || Math.hypot(to.x - from.x, to.y - from.y) > 2;
    if (!held.moved) return;
    if (held.how === "turn") {
      const turn = Math.atan2(to.x - was.x, was.y - to.y) * 180 / Math.PI;
      now.turn = ((Math.round(turn / 5) * 5) + 360) % 360;
    } else if (held.how === "wide") {
      const turn = was.turn * Math.PI / 180;
      const out = (to.x - from.x) * Math.cos(turn) + (to.y - from.y) * Math.sin(turn);
      const row = Number(held.link.dataset.bale) + Number(held.link.dataset.gap);
      now.wide = Math.max(1, was.wide + Math.round(2 * out / row));
    } else {
      now.x = was.x + to.x - from.x;
      now.y = was.y + to.y - from.y;
    }
    show(held.link);
  });
  map.addEventListener("dragstart", event => event.preventDefault());
  // What a press leads to is decided where it ends; a key has no place.
  map.addEventListener("click", event => { if (event.detail) event.preventDefault(); });
  const drop = () => {
    const done = held;
    held = null;
    if (!done) return;
    if (done.moved) send(done.link);
    else location.assign(done.link.getAttribute("xlink:href"));
  };
  map.addEventListener("pointerup", drop);
  map.addEventListener("pointercancel", () => { held = null; });
  const STEPS = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]};
  map.addEventListener("keydown", event => {
    const link = event.target.closest("a[data-lot]");
    if (!link || event.ctrlKey || event.altKey || event.metaKey) return;
    const now = at(link), back = event.shiftKey ? -1 : 1, key = event.key.toLowerCase();
    if (STEPS[event.key]) {
      const far = event.shiftKey ? 10 : 1;
      now.x += STEPS[event.key][0] * far;
      now.y += STEPS[event.key][1] * far;
    } else if (key === "r") now.turn = (now.turn + 15 * back + 360) % 360;
    else if (key === "w") now.wide = Math.max(1, now.wide + back);
    else if (key === "h") now.high = Math.max(1, now.high + back);
    else if (key === "escape") link.now = {...begun.get(link)};
    else if (key === "enter" && JSON.stringify(now) !== JSON.stringify(begun.get(link))) {
      send(link);
      event.preventDefault();
      return;
    } else return;
    event.preventDefault();
    show(link);
  });
};
begin();
// A drawing that was swapped is a new one.
document.addEventListener("htmx:afterSettle", begin);
