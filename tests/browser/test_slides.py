"""The slides in a real browser: keys, stages, no request, accessible, one page a slide in print."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest

from stepcalc.print.notebook import print_notebook
from tests.browser import jupyter

pytestmark = [pytest.mark.slow, pytest.mark.browser]

jupyter.need("playwright", "axe_playwright_python")

SOURCE = Path(__file__).parents[2] / "notebooks/classroom/rolled_beam_by_hand.ipynb"


@pytest.fixture(scope="module")
def deck(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("deck") / "deck.html"
    print_notebook(SOURCE, made, profile="walkthrough")
    return made


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with jupyter.chromium() as started:
        yield started


@pytest.fixture
def page(browser: Any, deck: Path) -> Iterator[Any]:
    opened = browser.new_page(viewport={"width": 1920, "height": 1080})
    opened.set_default_timeout(60_000)
    opened.asked = []
    opened.on("request", lambda request: opened.asked.append(request.url))
    opened.goto(deck.as_uri())
    yield opened
    opened.close()


def seen(page: Any) -> list[str]:
    """Return the texts of the pieces that the slide shows now."""
    pieces = page.locator(".slide.current .fragment:not(.later)")
    return [pieces.nth(at).get_attribute("data-said") or "" for at in range(pieces.count())]


def test_keys_reveal_a_step_line_by_line(page: Any, deck: Path) -> None:
    slide = page.evaluate(
        "() => [...document.querySelectorAll('.slide')].findIndex(s => "
        "s.textContent.includes('dead-load moment at midspan')) + 1"
    )
    page.goto(f"{deck.as_uri()}#{slide}.1")
    stages = [len(seen(page))]
    for key in ("ArrowRight", " "):
        page.keyboard.press(key)
        stages.append(len(seen(page)))
    assert stages == [1, 2, 3]
    jupyter.picture(page, "slides-step")
    assert "234.5" in page.locator("#where").text_content()
    page.keyboard.press("PageDown")
    assert page.url.endswith(f"#{slide + 1}.1")
    page.keyboard.press("ArrowLeft")
    assert len(seen(page)) == 3, "going back shows the slide as it was left"
    page.keyboard.press("Home")
    assert page.url.endswith("#1.1")
    assert page.locator("#back").is_disabled()
    page.locator("#next").click()
    assert page.url.endswith("#2.1")
    page.keyboard.press("End")
    assert page.locator("#next").is_disabled()


def test_nothing_is_fetched_and_nothing_runs_off_a_slide(page: Any, deck: Path) -> None:
    count = page.locator(".slide").count()
    for number in range(1, count + 1):
        page.evaluate(f"location.hash = '#{number}.9'")
        page.wait_for_timeout(5)
        room = page.evaluate(
            "() => { const b = document.querySelector('.slide.current .body');"
            " return [b.scrollHeight - b.clientHeight, b.scrollWidth - b.clientWidth]; }"
        )
        assert max(room) <= 1, f"slide {number} overflows by {room}"
    assert [url for url in page.asked if not url.startswith(("file:", "data:"))] == []


def test_a_printed_deck_has_one_page_a_slide(page: Any) -> None:
    printed = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True)))
    assert len(printed.pages) == page.locator(".slide").count()
    text = " ".join(found.extract_text() for found in printed.pages)
    assert "234.5" in text, "print shows every stage"


def test_without_script_all_is_shown(browser: Any, deck: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    opened = context.new_page()
    opened.goto(deck.as_uri())
    assert opened.locator(".slide:visible").count() == opened.locator(".slide").count()
    assert opened.locator(".fragment:visible").count() > 100
    context.close()


def test_no_rule_of_accessibility_is_broken(page: Any) -> None:
    import axe_playwright_python

    script = next(Path(axe_playwright_python.__file__).parent.rglob("axe.min.js"))
    page.evaluate(script.read_text())
    for _ in range(2):
        found = page.evaluate(
            "() => axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa'],"
            " resultTypes: ['violations']})"
        )
        told = [f"{rule['id']}: {node['html'][:160]}" for rule in found["violations"]
                for node in rule["nodes"][:3]]  # fmt: skip
        assert told == []
        page.evaluate("location.hash = '#7.9'")
