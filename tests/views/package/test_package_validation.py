"""The command for whoever has the official schemas, held to schemas of our own: they know a few rules and are enough to
show that imports are taken from the folder and that a planted fault is found.
"""

from __future__ import annotations

from pathlib import Path
from zipfile import ZipFile

import pytest
from click.testing import CliRunner

from tests.views.package.small_set import open_package, questions, small_set
from tutor.sets.paper import Learner, Paper
from tutor.views.package.validate import SCHEMAS, command

# An item or a test needs an identifier and a title; what a formula is made of is another schema's matter.
QUESTIONS = """<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns="http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
  targetNamespace="http://www.imsglobal.org/xsd/imsqtiasi_v3p0" elementFormDefault="qualified">
<xs:import namespace="http://www.w3.org/1998/Math/MathML"
  schemaLocation="https://purl.imsglobal.org/spec/mathml/v3p0/schema/xsd/mathml3.xsd"/>
<xs:complexType name="open" mixed="true">
 <xs:sequence><xs:any minOccurs="0" maxOccurs="unbounded" processContents="lax"/></xs:sequence>
 <xs:attribute name="identifier" type="xs:NCName" use="required"/>
 <xs:attribute name="title" type="xs:string" use="required"/>
 <xs:anyAttribute processContents="lax"/>
</xs:complexType>
<xs:element name="qti-assessment-item" type="open"/>
<xs:element name="qti-assessment-test" type="open"/>
</xs:schema>
"""
MATHML = """<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema"
  targetNamespace="http://www.w3.org/1998/Math/MathML" elementFormDefault="qualified">
<xs:element name="mn"><xs:simpleType><xs:restriction base="xs:string"><xs:pattern value="[−0-9.]+"/></xs:restriction>
</xs:simpleType></xs:element>
</xs:schema>
"""
PACKAGE = """<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema"
  targetNamespace="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1" elementFormDefault="qualified">
<xs:element name="manifest"><xs:complexType>
 <xs:sequence><xs:any maxOccurs="3" minOccurs="3" processContents="skip"/></xs:sequence>
 <xs:attribute name="identifier" type="xs:ID" use="required"/><xs:anyAttribute processContents="lax"/>
</xs:complexType></xs:element>
</xs:schema>
"""


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("package") / "set.zip"
    open_package((Paper(small_set(), Learner("1"), questions(("supply-peak:1:1",))),), path)
    return path


@pytest.fixture
def schemas(tmp_path: Path) -> Path:
    folder = tmp_path / "schemas"
    (folder / "imported").mkdir(parents=True)
    texts = dict(zip(SCHEMAS.values(), (QUESTIONS, PACKAGE), strict=True))
    assert list(texts) == ["imsqti_asiv3p0_v1p0.xsd", "imsqtiv3p0_imscpv1p2_v1p0.xsd"]
    for name, text in {**texts, "imported/mathml3.xsd": MATHML}.items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def run(package: Path, schemas: Path) -> tuple[int, str]:
    done = CliRunner().invoke(command, [str(package), "--schemas", str(schemas)])
    return done.exit_code, done.output


def spoilt(package: Path, path: Path, old: bytes, new: bytes) -> Path:
    """A copy of the package with one thing changed in its first item."""
    with ZipFile(package) as source, ZipFile(path, "w") as into:
        for name in source.namelist():
            data = source.read(name)
            if name.startswith("items/") and name.endswith(".xml"):
                assert old in data
                data = data.replace(old, new, 1)
            into.writestr(name, data)
    return path


def test_a_package_is_valid_by_them(package: Path, schemas: Path) -> None:
    """Manifest, test and item; the import of MathML by its address is found below the folder."""
    assert run(package, schemas) == (0, "3 files held against their schemas, 0 faults\n")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (b' title="', b' titel="', "The attribute 'title' is required but missing"),
        (b'identifier="supply-peak', b'identifier="1:supply', "is not a valid value of the atomic type"),
        (b"<mn>", b"<mn>x", "is not accepted by the pattern"),
        (b"</qti-item-body>", b"", "not well-formed"),
    ],
)
def test_a_planted_fault_is_found_with_its_place(
    old: bytes, new: bytes, words: str, package: Path, schemas: Path, tmp_path: Path
) -> None:
    """In the item, in what it names, and in a formula, by the schema that is imported."""
    status, told = run(spoilt(package, tmp_path / "spoilt.zip", old, new), schemas)
    assert status == 1 and words in told
    assert told.startswith("items/supply-peak.1.1.e2.xml, line ")


def test_what_cannot_be_validated_is_said_in_a_sentence(package: Path, schemas: Path, tmp_path: Path) -> None:
    """No schemas, one of them missing, one that is broken, no package."""
    empty = tmp_path / "empty"
    empty.mkdir()
    status, told = run(package, empty)
    assert status == 2 and "holds no .xsd files; put the schema files of QTI 3.0 there" in told
    assert run(schemas / "imsqti_asiv3p0_v1p0.xsd", schemas)[0] == 2
    (schemas / "imported" / "mathml3.xsd").write_text("<broken", encoding="utf-8")
    status, told = run(package, schemas)
    assert status == 2 and "cannot be used" in told
    (schemas / "imsqti_asiv3p0_v1p0.xsd").unlink()
    status, told = run(package, schemas)
    assert status == 2 and "holds no imsqti_asiv3p0_v1p0.xsd" in told
