"""The HTML print in a real browser: no request, math that shows, the rules of WCAG 2.1 A and AA.

The rules are those of axe-core, in the version that the package axe-playwright-python brings, so
that neither Node nor a network is needed.
"""

from __future__ import annotations

import importlib.util
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from stepcalc.bridge.bridge_file import read_bridge_file
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.print import print_notebook
from tests.unit.print_sample import sample_document

pytestmark = [pytest.mark.slow, pytest.mark.browser]

for _module in ("axe_playwright_python", "playwright"):
    if importlib.util.find_spec(_module) is None:
        pytest.skip(f"{_module} is not installed", allow_module_level=True)

ROOT = Path(__file__).parents[2]
PRINTS = ("girder", "notebook", "homework", "everything")
WIDTHS = {"desk": 1280, "telephone": 360}
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"]
SEEN_RULES = ["color-contrast", "link-in-text-block"]
"""Rules that look at the painted page: of a long one they take nine tenths of the time."""
WITHOUT_REPEATS = """
() => {
  const seen = new Map(), again = [];
  const repeats = (one, above) => {
    const look = `${above} ${one.tagName}.${one.className}`;
    const before = seen.get(look) ?? 0;
    seen.set(look, before + 1);
    const inside = [...one.children].map(child => repeats(child, look));
    const all = before > 1 && inside.every(Boolean);
    if (all) again.push(one);
    return all;
  };
  repeats(document.body, '');
  again.forEach(one => one.remove());
  return document.querySelectorAll('body *').length;
}
"""
"""Leaves two of each chain of tags and classes, which is all that the style sheet tells apart."""
_BROWSERS = ("chromium", "chromium-browser", "google-chrome")


@pytest.fixture(scope="module")
def prints(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Return a girder package, a notebook, homework, and a sheet with every kind of block."""
    from stepcalc.print.html import to_html
    from stepcalc.render.document import read_document

    folder = tmp_path_factory.mktemp("prints")
    made = {name: folder / f"{name}.html" for name in PRINTS}
    sheets = ROOT / "notebooks" / "sheets"
    girder = calculation_of(read_bridge_file(sheets / "alder_creek.toml"))
    girder.package().print(made["girder"])
    print_notebook(sheets / "interior_girder.ipynb", made["notebook"])
    by_hand = ROOT / "notebooks" / "classroom" / "rolled_beam_by_hand.ipynb"
    print_notebook(by_hand, made["homework"], profile="homework")
    made["everything"].write_text(to_html(read_document(sample_document())))
    return made


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    program = next(filter(None, map(shutil.which, _BROWSERS)))
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield started
        started.close()


def _open(browser: Any, path: Path, width: int) -> tuple[Any, list[str]]:
    """Return the page of a file without a network, and the addresses that it asks for."""
    context = browser.new_context(offline=True, viewport={"width": width, "height": 900})
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    page.evaluate("document.fonts.ready")
    return page, [url for url in asked if not url.startswith(("data:", path.as_uri()))]


@pytest.mark.parametrize(
    ("name", "width"),
    [("girder", "desk"), ("notebook", "telephone"), ("homework", "desk"), ("everything", "desk"),
     ("everything", "telephone")],
)  # fmt: skip
def test_no_rule_is_broken(name: str, width: str, prints: dict[str, Path], browser: Any) -> None:
    import axe_playwright_python

    script = Path(str(axe_playwright_python.__file__)).parent / "axe.min.js"
    page, _ = _open(browser, prints[name], WIDTHS[width])
    if name != "everything":  # the rules look at each of thousands of elements inside formulas
        page.evaluate(
            "document.querySelectorAll('math').forEach(formula =>"
            " formula.replaceWith(formula.getAttribute('alttext')))"
        )
    page.evaluate(script.read_text())
    found = page.evaluate(
        "([tags, rules]) => axe.run({runOnly: tags, resultTypes: ['violations'], rules})",
        [RULES, {rule: {"enabled": False} for rule in SEEN_RULES}],
    )
    assert 100 < page.evaluate(WITHOUT_REPEATS) < 1500
    seen = page.evaluate("rules => axe.run({runOnly: rules})", SEEN_RULES)
    told = [
        f"{rule['id']}: {rule['help']}: {node['html'][:160]}"
        for rule in found["violations"] + seen["violations"]
        for node in rule["nodes"][:3]
    ]
    assert told == []
    assert len(found["passes"]) > 20
    applied = {rule["id"] for rule in seen["passes"] + seen["inapplicable"]}
    assert applied == set(SEEN_RULES)
    assert seen["passes"][0]["id"] == "color-contrast"
    page.context.close()


@pytest.mark.parametrize("name", PRINTS)
def test_nothing_is_fetched_and_the_math_shows(
    name: str, prints: dict[str, Path], browser: Any
) -> None:
    page, asked = _open(browser, prints[name], WIDTHS["desk"])
    assert asked == []
    sizes = page.evaluate(
        "[...document.querySelectorAll('math')].map(m => m.getBoundingClientRect())"
        ".map(r => Math.min(r.width, r.height))"
    )
    assert len(sizes) > 15
    assert min(sizes) > 3  # a minus sign is thin
    faces = page.evaluate("[...document.fonts].filter(f => f.status == 'loaded').length")
    assert faces >= 3
    page.context.close()


@pytest.mark.parametrize("name", PRINTS)
def test_a_screen_reader_finds_formulas_in_words_and_figures_with_descriptions(
    name: str, prints: dict[str, Path], browser: Any
) -> None:
    page, _ = _open(browser, prints[name], WIDTHS["desk"])
    alone = page.evaluate("[...document.querySelectorAll('math')].filter(m => !m.ariaLabel"
                          " && !m.getAttribute('alttext')).length")  # fmt: skip
    assert alone == 0
    pictures = page.evaluate("[...document.querySelectorAll('img')].map(i => i.alt)")
    assert all(len(words) > 20 for words in pictures)
    assert page.title()
    assert page.locator("html").get_attribute("lang") == "en"
    assert page.locator("main").count() == 1
    page.context.close()


@pytest.mark.parametrize("name", PRINTS)
def test_a_narrow_screen_needs_no_scrolling_sideways(
    name: str, prints: dict[str, Path], browser: Any
) -> None:
    page, _ = _open(browser, prints[name], WIDTHS["telephone"])
    assert page.evaluate("document.documentElement.scrollWidth") <= WIDTHS["telephone"]
    page.context.close()


def test_the_keyboard_leads_past_the_head_and_to_the_contents(
    prints: dict[str, Path], browser: Any
) -> None:
    page, _ = _open(browser, prints["girder"], WIDTHS["desk"])
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the sheets"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "sheets"
    page.keyboard.press("Tab")
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid"
    page.context.close()
