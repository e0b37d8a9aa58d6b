"""The manifest at the root of a package: every file that is in it, and what needs what.

The namespace ends in `imscp_v1p1` while its schema file is named after v1p2: so it stands in the examples that the
standard's body publishes (1EdTech/qti-examples, `imsmanifest.xml`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from tutor.views.package.markup import INSTANCE, children, element

NAMESPACE = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
SCHEMA = "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd"
MANIFEST = "imsmanifest.xml"
ITEM, TEST = "imsqti_item_xmlv3p0", "imsqti_test_xmlv3p0"


@dataclass(frozen=True)
class Resource:
    """A resource: its own file first, others that belong to it alone, and identifiers of resources that it needs."""

    identifier: str
    kind: str
    href: str
    files: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()


def manifest_of(identifier: str, resources: Sequence[Resource]) -> Element:
    """The manifest: metadata, no organisations, the resources as they come."""
    metadata = children(
        "metadata",
        {},
        (element("schema", None, "QTI Package"), element("schemaversion", None, "3.0.0")),
    )
    rows = []
    for resource in resources:
        files = [element("file", {"href": href}) for href in (resource.href, *resource.files)]
        needs = [element("dependency", {"identifierref": name}) for name in resource.needs]
        attributes = {"identifier": resource.identifier, "type": resource.kind, "href": resource.href}
        rows.append(children("resource", attributes, (*files, *needs)))
    return children(
        "manifest",
        {
            "xmlns": NAMESPACE,
            "xmlns:xsi": INSTANCE,
            "xsi:schemaLocation": f"{NAMESPACE} {SCHEMA}",
            "identifier": identifier,
        },
        (metadata, element("organizations"), children("resources", {}, rows)),
    )
