"""A browser without a window, spoken to over two pipes: what a page is once it is laid out."""

from __future__ import annotations

import json
import os
import select
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import IO, Any

#: What the browser is called where it is installed.
NAMES = ("chromium", "chromium-browser", "google-chrome")
_OPTIONS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--remote-debugging-pipe",
)


def browser_there() -> str:
    """Return where a browser is, empty where there is none or pipes cannot be handed on."""
    if os.name != "posix":
        return ""
    return next((found for name in NAMES if (found := shutil.which(name))), "")


@dataclass
class Looked:
    """A page as it was laid out: its answer, how far it sticks out, its links, its complaints."""

    status: int
    sticks_out: int
    links: list[str]
    unnamed: int
    complaints: list[str] = field(default_factory=list)
    asked_for: list[str] = field(default_factory=list)


#: What is said of a page; the rest holds these together.
_SAID = frozenset(
    {
        "heading", "link", "button", "StaticText", "image", "textbox", "combobox", "checkbox",
        "radio", "DisclosureTriangle", "navigation", "main", "banner", "status", "alert",
        "spinbutton", "Date", "region", "table", "list", "form", "figure",
    }
)  # fmt: skip

#: Their name is all that stands in them.
_TELLS_ALL = frozenset({"heading", "link", "button", "DisclosureTriangle", "checkbox", "radio"})


def _heard(node: dict[str, Any], role: str, told: str) -> str:
    """Return a thing of the accessibility tree as it is said."""
    more = {one["name"]: one["value"].get("value") for one in node.get("properties", ())}
    level = f" {more['level']}" if role == "heading" else ""
    open_ = {True: " open", False: " closed"}.get(more.get("expanded"), "")
    return f"{role}{level}{open_}: {told}"


#: A browser that says nothing for so long hangs. [s]
_PATIENCE = 60

_LOOK = """(() => {
  const shown = [...document.querySelectorAll('input:not([type=hidden]),select,textarea')];
  return JSON.stringify({
    status: performance.getEntriesByType('navigation')[0].responseStatus,
    out: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    links: [...document.querySelectorAll('a[href]')].map(a => a.href.split('#')[0]),
    unnamed: shown.filter(e => !e.labels.length && !e.getAttribute('aria-label')).length,
  });
})()"""


#: Where the middle is of what can be pressed and says just some words; what is folded away is not
#: found, and hidden words for the ears are left out.
_FIND = """(words => {
  const plain = e => {
    const c = e.cloneNode(true);
    c.querySelectorAll('.hide').forEach(h => h.remove());
    return c.textContent.replace(/\\s+/g, ' ').trim();
  };
  const all = [...document.querySelectorAll('button,a[href],summary,label')];
  const at = all.find(e => e.checkVisibility() && plain(e) === words);
  if (!at) return null;
  at.scrollIntoView({block: 'center', behavior: 'instant'});
  const box = at.getClientRects()[0];
  return [box.x + box.width / 2, box.y + box.height / 2];
})(%s)"""

_FILL = """((name, value) => {
  const at = [...document.getElementsByName(name)].find(e => e.type !== 'hidden');
  if (!at || !at.checkVisibility()) return false;
  at.value = value;
  return at.value === value;
})(%s, %s)"""


#: Says when a part of the page was swapped; that which looks again by itself is no answer.
_TELLS_OF_SWAPS = """addEventListener('htmx:afterSettle', event => {
  if (!event.detail.requestConfig.elt.hasAttribute('data-again')) console.debug('swapped');
});"""


def _has_come(event: dict[str, Any]) -> bool:
    """Return whether an event says that what was asked for stands on the page."""
    if event.get("method") == "Runtime.consoleAPICalled":
        return [one.get("value") for one in event["params"]["args"]] == ["swapped"]
    return event.get("method") == "Page.loadEventFired"


#: Keys that move what is in focus.
_MORE = {
    "ArrowRight": (39, ""), "ArrowUp": (38, ""), "ArrowDown": (40, ""), "Home": (36, ""),
    "r": (82, "r"),
}  # fmt: skip


class Browser:
    """One page of a browser, in which addresses are opened one after another."""

    def __init__(self, to: IO[bytes], back: IO[bytes]) -> None:
        self._to, self._back = to, back
        self._number, self._session = 0, ""
        self._held = b""
        self._events: list[dict[str, Any]] = []
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.ask("Target.attachToTarget", targetId=target, flatten=True)[
            "sessionId"
        ]
        for part in ("Page", "Network", "Log", "Runtime"):
            self.ask(f"{part}.enable")
        self.ask("Page.addScriptToEvaluateOnNewDocument", source=_TELLS_OF_SWAPS)

    def ask(self, method: str, **what: Any) -> dict[str, Any]:
        """Ask for something and wait for the answer."""
        self._number += 1
        said: dict[str, Any] = {"id": self._number, "method": method, "params": what}
        if self._session:
            said["sessionId"] = self._session
        self._to.write(json.dumps(said).encode() + b"\0")
        self._to.flush()
        while True:
            answer = self._next()
            if answer.get("id") == self._number:
                assert "error" not in answer, answer
                result: dict[str, Any] = answer["result"]
                return result
            self._events.append(answer)

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._held:
            ready, _, _ = select.select([self._back], [], [], _PATIENCE)
            assert ready, f"the browser said nothing for {_PATIENCE} s"
            more = os.read(self._back.fileno(), 1 << 20)
            assert more, "the browser ended"
            self._held += more
        one, _, self._held = self._held.partition(b"\0")
        found: dict[str, Any] = json.loads(one)
        return found

    def open(self, address: str, width: int, *, dark: bool = False) -> None:
        """Open an address at a width, and wait until it is laid out."""
        self.ask(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=800,
            deviceScaleFactor=1,
            mobile=False,
        )
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.ask("Emulation.setEmulatedMedia", features=[scheme])
        self._events.clear()
        self.ask("Page.navigate", url=address)
        self._wait_for_page()

    def _wait_for_page(self) -> None:
        """Wait until a page is loaded, or a part of it was swapped."""
        while not any(_has_come(one) for one in self._events):
            self._events.append(self._next())

    def told(self, expression: str) -> Any:
        """Return what an expression says of the page."""
        said = self.ask("Runtime.evaluate", expression=expression, returnByValue=True)["result"]
        assert said.get("subtype") != "error", said
        return said.get("value")

    def told_later(self, promise: str) -> Any:
        """Return what a promise of the page comes to."""
        return self.ask(
            "Runtime.evaluate", expression=promise, returnByValue=True, awaitPromise=True
        )["result"].get("value")

    def events(self) -> list[dict[str, Any]]:
        """Return what the browser told since something was pressed or opened."""
        return list(self._events)

    def heard(self) -> list[str]:
        """Return what a screen reader says of the page: a line for each thing, role and name."""
        self.ask("Accessibility.enable")
        nodes = {one["nodeId"]: one for one in self.ask("Accessibility.getFullAXTree")["nodes"]}
        self.ask("Accessibility.disable")
        lines: list[str] = []
        # The tree comes level by level; it is read child by child.
        left = [(next(iter(nodes)), "")] if nodes else []
        while left:
            key, above = left.pop()
            node = nodes[key]
            role, name = (node.get(part, {}).get("value", "") for part in ("role", "name"))
            told = " ".join(str(name).split())
            if (
                not node["ignored"]
                and role in _SAID
                and not (role == "StaticText" and told in above)
            ):
                lines.append(_heard(node, role, told))
                above = told if role in _TELLS_ALL else ""
            left += [(one, above) for one in reversed(node.get("childIds", ())) if one in nodes]
        return lines

    def text(self) -> str:
        """Return the words that are seen on the page; what is folded away is not among them."""
        while self.told("document.body === null"):
            pass  # A page that looks again by itself is just being laid out.
        return " ".join(str(self.told("document.body.innerText")).split())

    def press(self, words: str, *, leads: bool = True) -> None:
        """Press with the mouse what says just these words, in the middle of it.

        ``leads`` says that another page comes of it.
        """
        found = self.told(_FIND % json.dumps(words))
        assert found, f"nothing that can be pressed says {words!r}: {self.text()}"
        self._events.clear()
        for kind in ("mousePressed", "mouseReleased"):
            self.ask(
                "Input.dispatchMouseEvent",
                type=kind,
                x=found[0],
                y=found[1],
                button="left",
                clickCount=1,
            )
        if leads:
            self._wait_for_page()

    def drag(self, expression: str, right: float, down: float) -> None:
        """Drag the middle of an element with the mouse, and wait for the page that comes of it."""
        box = self.told(
            f"(at => {{at.scrollIntoView({{block: 'center', inline: 'center', "
            f"behavior: 'instant'}}); const b = at.getBoundingClientRect(); "
            f"return [b.x + b.width / 2, b.y + b.height / 2]}})({expression})"
        )
        self._events.clear()
        steps = (("mousePressed", 0.0), ("mouseMoved", 0.5), ("mouseMoved", 1.0))
        for kind, far in (*steps, ("mouseReleased", 1.0)):
            at = {"x": box[0] + far * right, "y": box[1] + far * down}
            self.ask("Input.dispatchMouseEvent", type=kind, button="left", clickCount=1, **at)
        self._wait_for_page()

    def fill(self, name: str, value: str) -> None:
        """Put a value into the field of a name, as somebody who types or chooses."""
        done = self.told(_FILL % (json.dumps(name), json.dumps(value)))
        assert done, f"there is no field {name!r} to be filled in"

    def key(self, key: str, *, leads: bool = False) -> None:
        """Press a key; ``leads`` says that another page comes of it."""
        code, text = {"Tab": (9, ""), "Enter": (13, "\r"), "Space": (32, " "), **_MORE}[key]
        self._events.clear()
        what = {"key": " " if key == "Space" else key, "code": key, "windowsVirtualKeyCode": code}
        self.ask("Input.dispatchKeyEvent", type="keyDown", text=text, **what)
        self.ask("Input.dispatchKeyEvent", type="keyUp", **what)
        if leads:
            self._wait_for_page()

    def type(self, text: str) -> None:
        """Type a text where the focus is."""
        self.ask("Input.insertText", text=text)

    def tab_to(self, expression: str, most: int = 80) -> None:
        """Go by the Tab key until an expression holds of the element in focus, called ``at``."""
        for _ in range(most):
            self.key("Tab")
            if self.told(f"(at => {expression})(document.activeElement)"):
                return
        raise AssertionError(f"the Tab key never comes to {expression}")

    def look(self, address: str, width: int, *, dark: bool = False) -> Looked:
        """Open an address at a width and return what the page is."""
        self.open(address, width, dark=dark)
        said = json.loads(self.ask("Runtime.evaluate", expression=_LOOK)["result"]["value"])
        seen = Looked(said["status"], said["out"], said["links"], said["unnamed"])
        for one in self._events:
            what = one.get("params", {})
            if one.get("method") == "Log.entryAdded":
                seen.complaints.append(what["entry"]["text"])
            if one.get("method") == "Network.requestWillBeSent":
                seen.asked_for.append(what["request"]["url"])
        return seen


@contextmanager
def opened_browser() -> Iterator[Browser]:
    """Start a browser with nothing in its memory, and end it."""
    import fcntl  # there is none on Windows, where this is not called

    to_read, to_write = os.pipe()
    back_read, back_write = os.pipe()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as place:
        high = [fcntl.fcntl(one, fcntl.F_DUPFD, 20) for one in (to_read, back_write)]

        def hand_on() -> None:
            """Put the two ends where the browser looks for them."""
            for number, end in enumerate(high, start=3):
                os.dup2(end, number)

        process = subprocess.Popen(
            [browser_there(), *_OPTIONS, f"--user-data-dir={place}"],
            pass_fds=(3, 4),
            preexec_fn=hand_on,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        for end in high:
            os.close(end)
        os.close(to_read)
        os.close(back_write)
        with os.fdopen(to_write, "wb") as to, os.fdopen(back_read, "rb") as back:
            try:
                yield Browser(to, back)
            finally:
                process.terminate()
                process.wait(20)
