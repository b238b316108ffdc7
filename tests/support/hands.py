"""Somebody at a page: by the mouse, by the keyboard alone, or where no script runs."""

from __future__ import annotations

import json
from typing import Any

from support.browser import Browser

MOUSE, KEYS, NO_SCRIPT = "mouse", "keys", "no script"

#: Each way at each width, the usual one first.
WAYS = [f"{width} {way}" for way in (MOUSE, KEYS, NO_SCRIPT) for width in (360, 1280)]

#: What can be pressed and says just some words, as a person reads them.
_SAYS = """(words => [...document.querySelectorAll('button,a[href],summary,label')].find(e => {
  const c = e.cloneNode(true);
  c.querySelectorAll('.hide').forEach(h => h.remove());
  return e.checkVisibility() && c.textContent.replace(/\\s+/g, ' ').trim() === words;
}))(%s)"""
_AT = "document.activeElement"
_MOST_STEPS = 250


class Hand:
    """Presses, fills in and ticks on the pages of a browser, in one way."""

    def __init__(self, browser: Browser, width: int, way: str) -> None:
        self.browser, self.width, self.way = browser, width, way

    def begin(self) -> None:
        """Let no script run where none is to; `end` lets them run again."""
        off = self.way == NO_SCRIPT
        self.browser.ask("Emulation.setScriptExecutionDisabled", value=off)

    def end(self) -> None:
        """Let scripts run again, for whoever comes next."""
        self.browser.ask("Emulation.setScriptExecutionDisabled", value=False)

    def open(self, address: str) -> str:
        """Open an address, and return its words."""
        self.browser.open(address, self.width)
        return self.browser.text()

    def press(self, words: str, *, leads: bool = True) -> str:
        """Press what says these words, and return the words of the page that comes of it."""
        if self.way != KEYS:
            self.browser.press(words, leads=leads)
            return self.browser.text()
        found = _SAYS % json.dumps(words)
        kind = self.browser.told(f"(({found}) || {{tagName: ''}}).tagName")
        assert kind, f"nothing that can be pressed says {words!r}: {self.browser.text()}"
        if kind == "LABEL":
            self._choose(f"({found}).control || ({found}).querySelector('input')")
        else:
            self.browser.tab_to(f"at === {found}", _MOST_STEPS)
            self.browser.key("Enter", leads=leads)
        return self.browser.text()

    def _choose(self, control: str) -> None:
        """Go to a radio button or a box by the keyboard, and choose it."""
        name = self.browser.told(f"({control}).name")
        is_radio = self.browser.told(f"({control}).type") == "radio"
        at = f"at.name === {json.dumps(name)}" if is_radio else f"at === {control}"
        self.browser.tab_to(at, _MOST_STEPS)
        for _ in range(20):
            if self.browser.told(f"{_AT} === {control}"):
                break
            self.browser.key("ArrowDown")
        if not self.browser.told(f"{_AT}.checked"):
            self.browser.key("Space")
        assert self.browser.told(f"({control}).checked"), f"{name} cannot be chosen"

    def choose(self, control: str) -> None:
        """Choose a radio button or a box that an expression finds."""
        if self.way == KEYS:
            self._choose(control)
        else:
            self.browser.told(f"({control}).click()")

    def fill(self, name: str, value: str) -> None:
        """Put a value into the field of a name."""
        if self.way != KEYS:
            self.browser.fill(name, value)
            return
        browser = self.browser
        browser.tab_to(f"at.name === {json.dumps(name)} && at.type !== 'hidden'", _MOST_STEPS)
        if browser.told(f"{_AT}.type") == "radio":
            self._choose(f"{_AT}.form.querySelector('[name={name}][value={json.dumps(value)}]')")
        elif browser.told(f"{_AT}.tagName") == "SELECT":
            browser.key("Home")
            for _ in range(60):
                if browser.told(f"{_AT}.value") == value:
                    break
                browser.key("ArrowDown")
        else:
            browser.ask(
                "Input.dispatchKeyEvent", type="keyDown", key="a", modifiers=2,
                commands=["selectAll"],
            )  # fmt: skip
            browser.type(value)
        assert browser.told(f"{_AT}.value") == value, (name, browser.told(f"{_AT}.value"))

    def tell(self, name: str, value: str) -> None:
        """Answer a question: choose among its buttons, or fill in its field."""
        every = f"[...document.getElementsByName({json.dumps(name)})]"
        if self.browser.told(f"{every}.find(e => e.type !== 'hidden').type") == "radio":
            self.choose(f"{every}.find(e => e.value === {json.dumps(value)})")
        elif value or self.way != KEYS:
            self.fill(name, value)

    def tick_all(self, boxes: str) -> int:
        """Tick every box that a selector finds; return how many there are."""
        every = f"document.querySelectorAll({json.dumps(boxes)})"
        many: int = self.browser.told(f"{every}.length")
        for number in range(many):
            self.choose(f"{every}[{number}]")
        return many

    def bring(self, name: str, file: str) -> None:
        """Choose a file of this computer in the field of a name."""
        found = self.browser.ask(
            "Runtime.evaluate", expression=f"document.getElementsByName({json.dumps(name)})[0]"
        )
        what: dict[str, Any] = {"objectId": found["result"]["objectId"], "files": [file]}
        self.browser.ask("DOM.setFileInputFiles", **what)
