"""Exporters for ``jupyter nbconvert --to sheet_pdf`` and its sisters, and for the export menu.

The engine is that of ``stepcalc print``: what the cells stored is printed, nothing is run unless
``--execute`` asks for it, and a notebook that was not run from top to bottom is refused.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nbclient.exceptions import CellExecutionError
from nbconvert.exporters import Exporter
from traitlets import Bool, Enum, Unicode, default
from traitlets.config import Application

from stepcalc.errors import PrintError, StepcalcError
from stepcalc.print.disposition import with_dispositions
from stepcalc.print.notebook import notebook_document
from stepcalc.print.options import PAPERS, Options, front_of_profile, made_options
from stepcalc.print.package import settled

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

__all__ = [
    "SheetExporter", "SheetHTMLExporter", "SheetPDFExporter", "SheetTeXExporter",
    "SheetTypstExporter", "SheetWalkthroughExporter", "SheetWalkthroughPDFExporter",
]  # fmt: skip

Resources = dict[str, Any]


class SheetExporter(Exporter):
    """Base of the exporters: from the cells of a notebook to a document.

    Set a choice at the command line as in ``--SheetExporter.profile=homework``.
    """

    profile = Enum(
        ("", "package", "homework"),
        default_value="",
        help="whose head the sheets get: package or homework; empty: the title block decides",
    ).tag(config=True)
    code = Enum(
        ("", "none", "tagged", "all"),
        default_value="",
        help="code cells printed: none, tagged or all; empty: the tagged ones of homework",
    ).tag(config=True)
    front = Bool(
        default_value=True, help="cover, contents and lists before the sheets of a package"
    ).tag(config=True)  # fmt: skip
    paper = Enum(PAPERS, default_value="letter", help="letter or a4").tag(config=True)
    templates = Unicode("", help="a folder of templates that replace ours").tag(config=True)
    allow_stale = Bool(
        default_value=False, help="print what is out of date, marked STALE"
    ).tag(config=True)  # fmt: skip

    def from_notebook_node(
        self, nb: Any, resources: Resources | None = None, **options: Any
    ) -> tuple[Any, Resources]:
        """Return the printed form of a notebook, and the resources with its figures.

        Raises
        ------
        StepcalcError
            If the notebook cannot be printed; at the command line of nbconvert the run ends with
            the one paragraph that says why.
        """
        try:
            return self._exported(nb, resources, options)
        except StepcalcError as error:
            if not _at_command_line():
                raise
            sys.exit(f"nbconvert: {' '.join(str(error).split())}")

    def _exported(
        self, nb: Any, resources: Resources | None, options: dict[str, Any]
    ) -> tuple[Any, Resources]:
        try:
            copied, found = super().from_notebook_node(nb, resources, **options)
        except CellExecutionError as error:
            said = f"the notebook stopped while it was run: {error.ename}: {error.evalue}"
            raise PrintError(said) from error
        name = str(found.get("metadata", {}).get("name") or "notebook")
        document, provenance = self._document(copied, Path(f"{name}.ipynb"))
        if self.config.get("ExecutePreprocessor", {}).get("enabled", False):
            provenance = provenance.replace("as last run", "run for this print")
        document = settled(document, allow_stale=self.allow_stale)
        if document.profile == "package":
            document = with_dispositions(document)
        own = Path(self.templates) if self.templates else None
        front = front_of_profile(document.profile if self.front else "homework")
        chosen = made_options(paper=self.paper, templates=own, provenance=provenance, **front)
        return self._printed(document, chosen, found), found

    def _document(self, notebook: Any, source: Path) -> tuple[b.Document, str]:
        """Return what is printed of a notebook, and where it comes from in words."""
        return notebook_document(
            notebook, source, code=self.code or None, profile=self.profile or None,
            allow_stale=self.allow_stale,
        )  # fmt: skip

    def _printed(self, document: b.Document, options: Options, resources: Resources) -> Any:
        message = "SheetExporter is the base of the exporters; use one that names a form"
        raise NotImplementedError(message)

    def _beside(self, resources: Resources, files: dict[str, bytes]) -> None:
        """Hand over the files that stand beside the printed one."""
        outputs = resources.get("outputs")
        if not isinstance(outputs, dict):
            outputs = resources["outputs"] = {}
        outputs.update(files)


def _at_command_line() -> bool:
    """Say whether nbconvert's own command is running, where a stack trace would be all we say."""
    from nbconvert.nbconvertapp import NbConvertApp

    # NbConvertApp.initialized() is also true in a server, whose class shares the base
    return Application.initialized() and isinstance(Application.instance(), NbConvertApp)


def _base_name(resources: Resources) -> str:
    """Return the name under which nbconvert writes, without its suffix."""
    name = resources.get("unique_key") or resources.get("metadata", {}).get("name")
    return str(name or "notebook").replace("\\", "/").rpartition("/")[2]


class SheetPDFExporter(SheetExporter):
    """A calculation package as PDF; needs neither TeX nor a browser."""

    export_from_notebook = "Calculation sheets (PDF)"
    output_mimetype = "application/pdf"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".pdf"

    def _printed(self, document: b.Document, options: Options, resources: Resources) -> bytes:
        from stepcalc.print.typst import to_pdf

        return to_pdf(document, options)


class SheetHTMLExporter(SheetExporter):
    """A calculation package as one HTML file with MathML."""

    export_from_notebook = "Calculation sheets (HTML)"
    output_mimetype = "text/html"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".html"

    def _printed(self, document: b.Document, options: Options, resources: Resources) -> str:
        from stepcalc.print.html import to_html

        return to_html(document, options)


class SheetTeXExporter(SheetExporter):
    """A calculation package as TeX, its figures in ``NAME-figures``."""

    export_from_notebook = "Calculation sheets (TeX)"
    output_mimetype = "text/x-tex"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".tex"

    def _printed(self, document: b.Document, options: Options, resources: Resources) -> str:
        from stepcalc.print.tex import to_tex

        made = to_tex(document, options)
        folder = f"{_base_name(resources)}-figures"
        self._beside(resources, {f"{folder}/{n}": c for n, c in made.figures.items()})
        return made.source


class SheetTypstExporter(SheetExporter):
    """A calculation package as Typst source, its figures beside it."""

    export_from_notebook = "Calculation sheets (Typst)"
    output_mimetype = "text/x-typst"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".typ"

    def _printed(self, document: b.Document, options: Options, resources: Resources) -> str:
        from stepcalc.print.typst import typst_files

        folder = f"{_base_name(resources)}-figures/"
        files = typst_files(document, options, folder=folder)
        source = files.pop("main.typ").decode()
        self._beside(resources, files)
        return source


class SheetWalkthroughExporter(SheetExporter):
    """Slides as one HTML file, which reveal each step line by line at the press of a key."""

    export_from_notebook = "Walkthrough slides (HTML)"
    output_mimetype = "text/html"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".slides.html"

    @default("code")
    def _code_default(self) -> str:
        return "none"

    def _printed(self, document: b.Document, options: Options, resources: Resources) -> str:
        from stepcalc.print.slides_html import to_slides_html

        return to_slides_html(document, options)


class SheetWalkthroughPDFExporter(SheetWalkthroughExporter):
    """Slides as PDF, a page for each line that a step reveals."""

    export_from_notebook = "Walkthrough slides (PDF)"
    output_mimetype = "application/pdf"

    reveal = Bool(
        default_value=True, help="a page for each line revealed, not one a slide"
    ).tag(config=True)  # fmt: skip

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".slides.pdf"

    def _printed(self, document: b.Document, options: Options, resources: Resources) -> Any:
        from stepcalc.print.slides_typst import to_slides_pdf

        return to_slides_pdf(document, options, reveal=self.reveal)
