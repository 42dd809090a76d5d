"""Slides as one HTML file: large type, keys to go on and back, one page a slide when printed.

The one script is ours and the file allows no other; without it all slides stand below each other
with everything revealed. Nothing is fetched.
"""

from __future__ import annotations

import base64
import hashlib
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

from markupsafe import Markup

from stepcalc.print import views
from stepcalc.print.html import html_environment
from stepcalc.print.options import DEFAULT, Options
from stepcalc.print.prepared import prepare
from stepcalc.print.slides import slides_of, starts_with_sign
from stepcalc.print.typst import document_title

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

__all__ = ["to_slides_html"]


def to_slides_html(document: b.Document, options: Options = DEFAULT) -> str:
    """Return a document as slides in one self-contained HTML file.

    Parameters
    ----------
    document : Document
    options : Options, optional
        The paper is not used: a printed slide is 13.333 in by 7.5 in.

    Returns
    -------
    str
    """
    ready = prepare(document, "svg")
    ours = html_environment(options.templates)
    ours.filters["starts_with_sign"] = starts_with_sign
    css = ours.get_template("html/slides.css.j2").render(faces=_faces())
    script = ours.get_template("html/slides.js.j2").render()
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    return ours.get_template("html/slides.html.j2").render(
        title=document_title(document), css=Markup(css), script=Markup(script),
        script_hash=f"sha256-{digest}", slides=slides_of(ready), safety=views.SAFETY,
        identity=options.identity, prepared=ready,
    )  # fmt: skip


_FACES = (
    ("Math", "STIXTwoMath-subset", ""),
    ("Text", "STIXTwoText-Regular", ""),
    ("Text", "STIXTwoText-Italic", "font-style: italic; "),
    ("Text", "STIXTwoText-Bold", "font-weight: bold; "),
)


@lru_cache(maxsize=1)
def _faces() -> tuple[tuple[str, str, str], ...]:
    """Return family, further description and content of each font."""
    folder = files("stepcalc.print") / "fonts"
    return tuple(
        (family, looks, base64.b64encode((folder / f"{name}.woff2").read_bytes()).decode("ascii"))
        for family, name, looks in _FACES
        if (folder / f"{name}.woff2").is_file()
    )
