"""Holds a package against the official schemas, for whoever has them:

    python -m tutor.views.package.validate PACKAGE.zip --schemas FOLDER

FOLDER holds the schema files of QTI 3.0 (and those that they import: MathML, XInclude, SSML, xml.xsd and others) under
their own names, wherever below it; the standard's body gives them out, and no package registry does. Nothing is
fetched: an import that names an address is looked for in FOLDER by its file name. Needs the extra `schemas` (lxml).

Exit status 0: every file is valid; 1: some are not, each with its place; 2: the package or the schemas cannot be used.
Validity says that the shape is right. It is no certificate: links between identifiers are in the published Schematron
rules, and in the tests of this project.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlparse
from zipfile import BadZipFile, ZipFile

import click

from tutor.errors import SteadyrailError
from tutor.views.package import item, manifest

try:
    from lxml import etree
except ImportError:  # the extra is not installed: said in one sentence when it is needed
    etree = None

# The schema file for a root element, by its namespace; the namespace of either is told in `item` and `manifest`.
SCHEMAS = {space: Path(urlparse(address).path).name for space, address in (
    (item.NAMESPACE, item.SCHEMA),
    (manifest.NAMESPACE, manifest.SCHEMA),
)}  # fmt: skip


@dataclass(frozen=True)
class SchemaFault:
    """A place in a file of the package at which it breaks its schema, as the validator puts it."""

    file: str
    line: int
    words: str


def validate(package: Path, schemas: Path) -> tuple[int, tuple[SchemaFault, ...]]:
    """How many files were held against a schema, and every fault found. SteadyrailError when that cannot be done."""
    if etree is None:
        raise SteadyrailError("validation needs lxml; install it with: pip install 'steadyrail[schemas]'")
    files = {path.name: path for path in sorted(schemas.rglob("*.xsd"))}
    if not files:
        raise SteadyrailError(f"{schemas} holds no .xsd files; put the schema files of QTI 3.0 there")
    ready: dict[str, Any] = {}
    faults: list[SchemaFault] = []
    checked = 0
    try:
        with ZipFile(package) as source:
            for name in sorted(item for item in source.namelist() if item.endswith(".xml")):
                try:
                    root = etree.fromstring(source.read(name), _parser({}))
                except etree.XMLSyntaxError as error:
                    faults.append(SchemaFault(name, error.lineno or 0, f"not well-formed: {error.msg}"))
                    continue
                space = etree.QName(root).namespace or ""
                if space not in SCHEMAS:
                    faults.append(SchemaFault(name, 1, f"no schema is known for the namespace '{space}'"))
                    continue
                if space not in ready:
                    ready[space] = _schema(files, SCHEMAS[space], schemas)
                checked += 1
                faults += _faults(ready[space], root, name)
    except (OSError, BadZipFile) as error:
        raise SteadyrailError(f"{package} cannot be read as a package: {error}") from error
    return checked, tuple(faults)


def _faults(schema: Any, root: Any, name: str) -> list[SchemaFault]:
    if schema.validate(root):
        return []
    return [SchemaFault(name, entry.line, entry.message) for entry in schema.error_log]


def _schema(files: Mapping[str, Path], name: str, folder: Path) -> Any:
    """The schema of that file name, its imports taken from the folder."""
    if name not in files:
        raise SteadyrailError(f"{folder} holds no {name}; put it there with the schemas that it imports")
    try:
        return etree.XMLSchema(etree.parse(str(files[name]), _parser(files)))
    except (etree.XMLSchemaParseError, etree.XMLSyntaxError) as error:
        raise SteadyrailError(f"{files[name]} cannot be used: {error}") from error


def _parser(files: Mapping[str, Path]) -> Any:
    """A parser that fetches nothing and expands nothing; what a schema imports comes from `files` by name."""
    parser = etree.XMLParser(no_network=True, resolve_entities=False, load_dtd=False)

    class FromFolder(etree.Resolver):  # type: ignore[misc]  # lxml ships no types
        def resolve(self, url: str | None, public_id: str | None, context: Any) -> Any:
            found = files.get(Path(urlparse(url or "").path).name)
            return None if found is None else self.resolve_filename(str(found), context)

    parser.resolvers.add(FromFolder())
    return parser


@click.command("validate")
@click.argument("package", type=click.Path(path_type=Path))
@click.option(
    "--schemas", type=click.Path(path_type=Path), required=True, metavar="DIR", help="The folder with the .xsd files."
)
def command(package: Path, schemas: Path) -> None:
    """Hold every XML file of PACKAGE against the official schemas in a folder."""
    try:
        checked, faults = validate(package, schemas)
    except SteadyrailError as error:
        click.echo(f"validate: {' '.join(error.sentence.split())}", err=True)
        sys.exit(2)
    for fault in faults:
        click.echo(f"{fault.file}, line {fault.line}: {fault.words}")
    click.echo(f"{checked} files held against their schemas, {len(faults)} faults")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    command()
