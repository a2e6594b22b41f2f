"""Every document that the sources or the tests cite: how a citation of it is found, and its full name.

A pattern is a regular expression; the page lists where it was found. A test finds a citation that no pattern covers,
and a pattern that nothing cites any longer.
"""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["BIBLIOGRAPHY", "NO_DOCUMENT", "STANDARD"]

_ENTRIES: dict[str, dict[str, str]] = {
    "Standards": {
        r"ABYC E-11": "ABYC E-11, AC and DC electrical systems on boats.",
        r"ANSI Z535\.6": "ANSI Z535.6, Product safety information in product manuals, instructions and other "
        "collateral materials.",
        r"ANSI/ASME Y14\.1": "ANSI/ASME Y14.1, Decimal inch drawing sheet size and format.",
        r"ASTM B258": "ASTM B258, Standard specification for standard nominal diameters and cross-sectional areas "
        "of AWG sizes of solid round wires used as electrical conductors.",
        r"DIN 72552": "DIN 72552, Klemmenbezeichnungen in Kraftfahrzeugen (terminal numbers in motor vehicles); read "
        "from public lists.",
        r"HTML Living Standard": "WHATWG, HTML Living Standard.",
        r"Content Security Policy": "W3C, Content Security Policy Level 3.",
        r"IEC 60028": "IEC 60028, International standard of resistance for copper.",
        r"IEC 60063": "IEC 60063, Preferred number series for resistors and capacitors.",
        r"IEC 60228": "IEC 60228, Conductors of insulated cables.",
        r"IEC 60364-4-43": "IEC 60364-4-43, Low-voltage electrical installations: protection against overcurrent.",
        r"IEC 60617": "IEC 60617, Graphical symbols for diagrams.",
        r"IEC 60757": "IEC 60757:2021, Code for designation of colours.",
        r"IEC 61966-2-1": "IEC 61966-2-1, Colour measurement and management: default RGB colour space, sRGB.",
        r"FIPS 180-4": "NIST FIPS 180-4, Secure Hash Standard.",
        r"ISO 8601": "ISO 8601, Date and time: representations for information interchange.",
        r"PKWARE APPNOTE": "PKWARE APPNOTE.TXT, .ZIP file format specification, version 6.3.",
        r"OpenDocument 1\.3": "OASIS, Open Document Format for Office Applications, version 1.3, part 3.",
        r"RFC 5737": "RFC 5737, IPv4 address blocks reserved for documentation.",
        r"Unicode Standard 17|Unicode Character Database": "The Unicode Standard, version 17.0, with Annex 9 "
        "(bidirectional algorithm) and the Unicode Character Database.",
        r"ISO 14289-1": "ISO 14289-1, Document management: electronic document file format enhancement for "
        "accessibility (PDF/UA-1).",
        r"Exif 2\.32": "CIPA DC-008-2019 (Exif 2.32), Exchangeable image file format for digital still cameras.",
        r"ITU-T T\.81": "ITU-T T.81 (ISO/IEC 10918-1), Digital compression and coding of continuous-tone still images "
        "(JPEG).",
        r"ITU-T T\.871": "ITU-T T.871 (ISO/IEC 10918-5), JPEG File Interchange Format (JFIF).",
        r"ISO/IEC 15948": "ISO/IEC 15948, Portable Network Graphics (PNG).",
        r"ISO/IEC 18004": "ISO/IEC 18004, QR Code bar code symbology specification.",
        r"ISO 15031-3": "ISO 15031-3, Diagnostic connector and related electrical circuits.",
        r"ISO 16750-2": "ISO 16750-2, Road vehicles: environmental conditions and testing for electrical and "
        "electronic equipment, electrical loads: supply codes and starting profiles (levels II to IV from memory).",
        r"ISO 216": "ISO 216, Writing paper and certain classes of printed matter: trimmed sizes, A and B series.",
        r"ISO 3864-2": "ISO 3864-2, Safety colours and safety signs: product safety labels.",
        r"ISO 639-1": "ISO 639-1, Codes for the representation of names of languages.",
        r"ISO 6469-3": "ISO 6469-3, Electrically propelled road vehicles: safety specifications, electrical safety.",
        r"ISO 6722-1|ISO 19642": "ISO 6722-1, 60 V and 600 V single-core cables for road vehicles; now ISO 19642.",
        r"ISO 8820-3": "ISO 8820-3, Road vehicles: fuse-links with tabs (blade type).",
        r"JSON Schema 2020-12": "JSON Schema, draft 2020-12, Core.",
        r"MIL-W-5088B": "MIL-W-5088B, Wiring, aircraft, selection and installation; a set of its values as reproduced "
        "in a manual of load benches.",
        r"NEC\b": "NFPA 70, National Electrical Code, chapter 9, table 8: conductor properties.",
        r"SAE J1128": "SAE J1128, Low voltage primary cable.",
        r"SAE J1284|J2077": "SAE J1284 and J2077, Blade type electric fuses.",
        r"SAE J1673": "SAE J1673, High voltage automotive wiring assembly design.",
        r"J1850": "SAE J1850, Class B data communications network interface.",
        r"SAE J1962": "SAE J1962, Diagnostic connector.",
        r"SAE J300": "SAE J300, Engine oil viscosity classification: cold-cranking limits (from memory).",
        r"SAE J537": "SAE J537, Storage batteries.",
        r"SI Brochure": "BIPM, The International System of Units (SI Brochure), 9th edition, 2019.",
        r"WCAG": "W3C, Web Content Accessibility Guidelines (WCAG) 2.2, and Understanding WCAG 2.2.",
        r"YAML 1\.1": "YAML Ain't Markup Language, version 1.1, 2005.",
    },
    "Law and official papers": {
        r"29 CFR 1917\.157": "29 CFR 1917.157, Battery charging and changing (United States).",
        r"33 CFR 183": "33 CFR part 183, subpart I, Electrical systems of boats (United States): 183.425 conductors, "
        "183.455 overcurrent protection. A strict guide for cars, for which there is no such rule.",
        r"47 CFR 15": "47 CFR part 15, Radio frequency devices (United States).",
        r"49 CFR 571\.102": "49 CFR 571.102, Transmission shift position sequence, starter interlock, and transmission "
        "braking effect (United States).",
        r"49 CFR 571\.114": "49 CFR 571.114, Theft protection and rollaway prevention (United States).",
        r"MGL c\.90": "Massachusetts General Laws, chapter 90, section 16A: unnecessary operation of engines.",
        r"TM 5-3805-254": "TM 5-3805-254, a United States Army technical manual: drop in starter cables.",
        r"49 CFR 571\.118": "49 CFR 571.118, Power-operated window, partition and roof panel systems (United States).",
        r"49 CFR 571\.208": "49 CFR 571.208, Occupant crash protection (United States).",
        r"49 CFR 571\.305": "49 CFR 571.305, Electric-powered vehicles: electrolyte spillage and electrical shock "
        "protection (United States).",
        r"FAA AC 43\.13-1B|AC 43\.13-1B": "FAA Advisory Circular 43.13-1B, Acceptable methods, techniques and "
        "practices: aircraft inspection and repair, chapter 11.",
        r"NHTSA": "NHTSA, letters of interpretation and safety advice (United States).",
        r"NIST SP 811": "NIST Special Publication 811, Guide for the use of the International System of Units, 2008.",
        r"International yard and pound": "International yard and pound agreement, 1959.",
    },
    "Books and articles": {
        r"OpenStax|\bUP2\b|\bCP\b": "OpenStax, University Physics, volume 2, and College Physics 2e.",
        r"Kuphaldt|\bLEC\b": "T. R. Kuphaldt, Lessons in Electric Circuits, volumes I, III and V.",
        r"Kirchhoff's (?:current )?laws?|Tellegen": "Kirchhoff's laws, and Tellegen's theorem, which follows from "
        "them; any book on circuits.",
        r"Katzenelson": "J. Katzenelson, An algorithm for solving nonlinear resistor networks, Bell System Technical "
        "Journal 44, 1965.",
        r"W\. Millar": "W. Millar, Some general theorems for non-linear systems possessing resistance, Philosophical "
        "Magazine 42, 1951.",
        r"Grassmann": "W. K. Grassmann, M. I. Taksar, D. P. Heyman, Regenerative analysis and steady state "
        "distributions for Markov chains, Operations Research 33, 1985.",
        r"J\. M\. Peña": "J. M. Peña, LDU decompositions with L and U well conditioned, ETNA 18, 2004.",
        r"S\. W\. Director": "S. W. Director, R. A. Rohrer, The generalized adjoint network and network sensitivities, "
        "IEEE Transactions on Circuit Theory 16, 1969.",
        r"Shannon": "C. E. Shannon, A mathematical theory of communication, Bell System Technical Journal 27, 1948.",
        r"Klein and Randić": "D. J. Klein and M. Randić, Resistance distance, Journal of Mathematical Chemistry 12, "
        "1993.",
    },
    "Data sheets, service manuals and catalogues": {
        r"electricianmath\.com": "Electrician Math, worked examples of voltage drop (electricianmath.com).",
        r"vocational-school sheet": "A vocational school's exercise sheet on measuring the drop across a fuse.",
        r"LM1819": "National Semiconductor, LM1819 data sheet: air-core meter driver.",
        r"OEN relays": "OEN, data sheet of relay series 78.",
        r"data sheet of an ISO 8820-3|Data sheet of an ISO 8820-3": "A maker's data sheet of a blade-fuse series to "
        "ISO 8820-3, type C.",
        r"[Rr]elay data sheets|data-sheet figures of a 12 V relay|published data sheets": "Makers' data sheets of 12 V "
        "automotive relays: coil, operate and release figures.",
        r"Battery Council International": "Battery Council International, open-circuit voltage of 12 V flooded "
        "batteries against state of charge.",
        r"textbook's upper limits of cranking current": "An automotive textbook's table of cranking currents by "
        "cylinders.",
        r"boat cable in bundles|boat-cable catalogues?": "Makers' catalogues of boat cable: ampacity in bundles, "
        "conductor areas.",
        r"Ford Excursion|Lexus RX 350|Chrysler Intrepid|Volvo S60|Cadillac Eldorado|Honda|Mitsubishi|Mazda|Nissan|Acura"
        r"|published service\s+manuals?|compact car|service manuals of two makers"
        r"|sports-car service manual": "Workshop manuals of vehicle makers: ignition-switch tables, signal levels "
        "on data buses, rules for restraint wiring, load and cranking tests of batteries, bench data of starters.",
    },
    "Programs that check ours": {
        r"ngspice": "ngspice, circuit simulator: whole networks, operating points.",
        r"python-flint|\bArb\b": "Arb, by way of python-flint: ball arithmetic, which encloses the true value.",
        r"\bscipy\b": "SciPy, numerical library: a reference integrator.",
        r"networkx": "networkx, graph library: resistance distance, paths.",
    },
}

BIBLIOGRAPHY: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {title: MappingProxyType(entries) for title, entries in _ENTRIES.items()}
)
"""Chapter of the page -> pattern -> full name."""

STANDARD = (
    r"\b(?:ISO(?:/IEC)?|IEC(?:/IEEE)?|SAE|DIN|ASTM|NIST SP|\d+ CFR|ANSI|UN R|FAA AC|ABYC|JIS|RFC|IEEE|MIL-STD|\d+ USC|"
    r"JASO) ?[A-Z]{0,2}-?\d[\w./-]*"
)
"""What looks like the number of a standard or of a law."""

NO_DOCUMENT = (
    r"[Cc]ommon practice|by hand|[Cc]losed form|[Aa]rithmetic|^the same\b"
)
"""What a `# Source:` may say where no document stands behind it."""
