"""Where the jinja2 templates are, and the environments that render them.

The only module that knows where ``templates/`` lies: inside the installed package, or beside
it in a checkout. A user's own folder is searched first, so one template can be replaced.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stepcalc.errors import PrintError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from jinja2 import BaseLoader, Environment


def template_folder() -> Path | None:
    """Return the folder of our templates, or None inside a zipped install.

    Returns
    -------
    Path or None
        The folder in the installed package if there is one, else ``templates/`` of the checkout.
    """
    for folder in _places():
        if folder.is_dir():
            return folder
    return None


def _places() -> tuple[Path, Path]:
    package = Path(__file__).resolve().parents[1]
    return package / "templates", package.parent / "templates"


def _loader(own_folder: Path | None) -> BaseLoader:
    from jinja2 import ChoiceLoader, FileSystemLoader, PackageLoader

    folder = template_folder()
    loaders: list[BaseLoader] = []
    if own_folder is not None:
        if not own_folder.is_dir():
            msg = f"own templates are to come from {own_folder}, which is no folder"
            raise PrintError(msg)
        loaders.append(FileSystemLoader(own_folder))
    if folder is not None:
        loaders.append(FileSystemLoader(folder))
    elif files("stepcalc").joinpath("templates").is_dir():
        loaders.append(PackageLoader("stepcalc", "templates"))
    else:
        inside, beside = _places()
        msg = f"no templates found: neither {inside} nor {beside} is a folder; reinstall stepcalc"
        raise PrintError(msg)
    return ChoiceLoader(loaders)


@lru_cache(maxsize=16)
def environment(form: str, own_folder: Path | None = None) -> Environment:
    """Return the jinja2 environment of one printed form.

    Parameters
    ----------
    form : {"typst", "html", "latex", "text"}
        TeX uses ``((* *))``, ``((( )))`` and ``((= =))``, since braces are TeX's own.
    own_folder : Path, optional
        Searched before ours; it holds the same sub-folders.

    Returns
    -------
    jinja2.Environment
        A name that a template uses and nothing defines is an error. HTML is escaped.

    Raises
    ------
    PrintError
        If there are no templates, or ``own_folder`` is no folder.
    """
    from jinja2 import Environment, StrictUndefined, select_autoescape

    loader = _loader(own_folder)
    if form == "latex":
        return Environment(
            loader=loader, undefined=StrictUndefined, autoescape=False, trim_blocks=True,
            lstrip_blocks=True, keep_trailing_newline=True, block_start_string="((*",
            block_end_string="*))", variable_start_string="(((", variable_end_string=")))",
            comment_start_string="((=", comment_end_string="=))",
        )  # fmt: skip
    escaped = select_autoescape(("html", "html.j2"), default_for_string=True, default=False)
    return Environment(
        loader=loader, undefined=StrictUndefined, autoescape=escaped, trim_blocks=True,
        lstrip_blocks=True, keep_trailing_newline=True,
    )  # fmt: skip


def context_filter(function: Callable[[Mapping[str, Any], Any], Any]) -> Callable[..., Any]:
    """Return a filter that also gets the variables with which its template is rendered."""
    from jinja2 import pass_context

    return pass_context(function)
