"""Where templates are found, and what a template may and may not do."""

from __future__ import annotations

from pathlib import Path

import jinja2
import pytest

from stepcalc.errors import PrintError
from stepcalc.render import templates
from stepcalc.render.templates import environment, template_folder

FORMS = {"typst": "typ", "html": "html", "latex": "tex"}


@pytest.mark.parametrize("form", FORMS)
def test_every_form_finds_its_templates(form: str) -> None:
    ours = environment(form)
    assert ours.loader is not None
    assert ours.loader.get_source(ours, f"{form}/document.{FORMS[form]}.j2")


def test_the_folder_of_the_checkout_or_the_installed_package() -> None:
    folder = template_folder()
    assert folder is not None
    assert (folder / "typst" / "prelude.typ.j2").is_file()


def test_both_places_are_named_when_there_is_none(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    places = (tmp_path / "inside", tmp_path / "beside")
    monkeypatch.setattr(templates, "_places", lambda: places)
    with pytest.raises(PrintError) as caught:
        environment.__wrapped__("html", None)
    assert all(str(place) in str(caught.value) for place in places)


def test_html_is_escaped_and_the_others_are_not(tmp_path: Path) -> None:
    for form, suffix in FORMS.items():
        (tmp_path / form).mkdir()
        shown = "((( x )))" if form == "latex" else "{{ x }}"
        (tmp_path / form / f"a.{suffix}.j2").write_text(shown)
        made = environment(form, tmp_path).get_template(f"{form}/a.{suffix}.j2").render(x="<b>")
        assert made == ("&lt;b&gt;" if form == "html" else "<b>")


def test_a_name_that_nothing_defines_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "a.html.j2").write_text("{{ nothing }}")
    with pytest.raises(jinja2.UndefinedError):
        environment("html", tmp_path).get_template("a.html.j2").render()


def test_templates_hold_no_python() -> None:
    folder = template_folder()
    assert folder is not None
    assert not list(folder.rglob("*.py"))
