"""Checks of a SCORM 1.2 package that the published schemas do not make."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator

from lxml import etree

MANIFEST = "imsmanifest.xml"
CP = "{http://www.imsproject.org/xsd/imscp_rootv1p1p2}"
ADLCP = "{http://www.adlnet.org/xsd/adlcp_rootv1p2}"
_ID = re.compile(r"[A-Za-z][A-Za-z0-9._-]{0,254}\Z")
_NAME = re.compile(r"[a-z0-9._/-]+\Z")
_OUTSIDE = re.compile(rb"(?:src|href)=\"(?:https?:)?//|url\((?:https?:)?//|\bimport\s*\(\s*[\"']http")
_ORDER = ["metadata", "organizations", "resources"]
LONGEST_TITLE = 200


def faults(package: bytes) -> list[str]:
    """What is wrong with it, in words; none if nothing is."""
    try:
        archive = zipfile.ZipFile(io.BytesIO(package))
    except zipfile.BadZipFile:
        return ["it is no zip"]
    with archive:
        names = archive.namelist()
        if not names or names[0] != MANIFEST:
            return [f"{MANIFEST} does not lead"]
        try:
            root = etree.fromstring(archive.read(MANIFEST), _parser())
        except etree.XMLSyntaxError as trouble:
            return [f"{MANIFEST} is no XML: {trouble}"]
        inside = {n: archive.read(n) for n in names}
    return [*_files(names, inside), *_manifest(root, set(names))]


def _parser() -> etree.XMLParser:
    return etree.XMLParser(resolve_entities=False, no_network=True)


def _files(names: list[str], inside: dict[str, bytes]) -> Iterator[str]:
    if len(set(names)) != len(names):
        yield "a file stands in it twice"
    for name in names:
        if not _NAME.match(name) or name.startswith("/") or ".." in name.split("/"):
            yield f"file name `{name}` can't travel"
        if name.endswith((".html", ".css", ".js")) and _OUTSIDE.search(inside[name]):
            yield f"{name} asks another address"


def _manifest(root: etree._Element, names: set[str]) -> Iterator[str]:
    if root.tag != f"{CP}manifest":
        yield "the root is no manifest of content packaging 1.1.2"
        return
    if [etree.QName(e).localname for e in root] != _ORDER:
        yield f"parts of the manifest have to be {', '.join(_ORDER)}"
        return
    if root.findtext(f"{CP}metadata/{CP}schema") != "ADL SCORM":
        yield "schema is not `ADL SCORM`"
    if root.findtext(f"{CP}metadata/{CP}schemaversion") != "1.2":
        yield "schemaversion is not 1.2"
    if list(root.iter(f"{ADLCP}masteryscore")):
        yield "masteryscore lets platforms overwrite the result"
    yield from _identifiers(root)
    yield from _organizations(root)
    yield from _resources(root, names)


def _identifiers(root: etree._Element) -> Iterator[str]:
    ids = [e.get("identifier") for e in root.iter() if isinstance(e.tag, str) and e.get("identifier") is not None]  # fmt: skip
    for each in ids:
        if not _ID.match(each or ""):
            yield f"identifier `{each}` can't travel"
    if len(set(ids)) != len(ids):
        yield "two things have one identifier"


def _organizations(root: etree._Element) -> Iterator[str]:
    place = root.find(f"{CP}organizations")
    every = [] if place is None else place.findall(f"{CP}organization")
    known = {o.get("identifier") for o in every}
    if place is None or place.get("default") not in known or not known:
        yield "the default organization does not exist"
    resources = {r.get("identifier") for r in root.iter(f"{CP}resource")}
    for titled in (*root.iter(f"{CP}organization"), *root.iter(f"{CP}item")):
        title = titled.findtext(f"{CP}title") or ""
        if not title.strip() or len(title) > LONGEST_TITLE or titled[0].tag != f"{CP}title":
            yield f"`{titled.get('identifier')}` has no title of at most {LONGEST_TITLE} characters before all else"
    items = list(root.iter(f"{CP}item"))
    if not items:
        yield "there is no item to start"
    for item in items:
        if item.get("identifierref") not in resources:
            yield f"item `{item.get('identifier')}` names no resource that exists"


def _resources(root: etree._Element, names: set[str]) -> Iterator[str]:
    listed: set[str] = set()
    for resource in root.iter(f"{CP}resource"):
        if resource.get(f"{ADLCP}scormtype") not in ("sco", "asset"):
            yield f"resource `{resource.get('identifier')}` has no scormtype"
        if resource.get("type") != "webcontent":
            yield f"resource `{resource.get('identifier')}` is no webcontent"
        files = [f.get("href") or "" for f in resource.findall(f"{CP}file")]
        listed |= set(files)
        if resource.get("href") not in files:
            yield f"resource `{resource.get('identifier')}` starts a file that it does not list"
    for name in sorted(listed - names):
        yield f"`{name}` is listed and not there"
    for name in sorted(names - listed - {MANIFEST}):
        yield f"`{name}` is there and not listed"
