"""Passages made from templates: invented people of many origins, numbers from reserved ranges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

from tests.scrub.sets.passages import Passage, half_of, parsed

GIVEN = [
    "Amara",
    "Tobias",
    "Siobhan",
    "Takeshi",
    "Priya",
    "Mohammed",
    "Jean-Luc",
    "Ngozi",
    "Zoltán",
    "Ingrid",
    "Wanjiru",
    "Kofi",
    "Beatriz",
    "Joaquín",
    "Nguyệt",
    "Minh",
    "Soo-ah",
    "Farid",
    "Leyla",
    "Dmitri",
    "Oksana",
    "Hinemoa",
    "Tāmati",
    "Keoni",
    "Anaïs",
    "Søren",
    "Łucja",
    "Ewa",
    "Bálint",
    "Ioana",
    "Nikos",
    "Eleni",
    "Rashid",
    "Zainab",
    "Gurpreet",
    "Harjit",
    "Thandiwe",
    "Sipho",
    "Chiamaka",
    "Babatunde",
    "Xiu",
    "Haruka",
    "Aroha",
    "Mehmet",
    "Aylin",
    "Yael",
    "Avi",
    "Pádraig",
    "Caoimhe",
    "Geraint",
    "Angharad",
    "Hamish",
    "Florian",
    "Annika",
    "Matteo",
    "Chiara",
    "Rui",
    "Inês",
    "Vusi",
    "Ximena",
    "Citlali",
    "Nadeem",
    "Sunita",
    "Lakshmi",
    "Edmund",
    "Philippa",
    "Doreen",
    "Clifford",
    "Maureen",
    "Kayleigh",
]
FAMILY = [
    "Okonjo",
    "Lindqvist",
    "Velankar",
    "Morimoto",
    "Raghunathan",
    "Al-Farsi",
    "Beauchamp",
    "Eze",
    "Szabó-Kis",
    "Thorsteinsdottir",
    "Kamau",
    "Asantewaa",
    "Figueiredo",
    "Echeverría",
    "Trần",
    "Phạm",
    "Baek",
    "Haddadi",
    "Yılmazer",
    "Volkonin",
    "Bondarchenko",
    "Ngatawhai",
    "Parata",
    "Kealoha",
    "Delacroix-Moy",
    "Kjærgaard",
    "Wiśniewicz",
    "Brzezicki",
    "Horvátovics",
    "Dumitrache",
    "Papanikolas",
    "Karamitsou",
    "Siddiquee",
    "Bhuiyan",
    "Dhaliwala",
    "Sandhuri",
    "Mthembeni",
    "Dlaminu",
    "Nwachukwa",
    "Adeyeminu",
    "Xiangli",
    "Watanabuki",
    "Rangihau",
    "Öztürker",
    "Benshalom",
    "O'Faolainn",
    "MacGillivery",
    "Penhaligan",
    "Trevorrow",
    "Abercrombey",
    "Oberhausner",
    "Schmittke",
    "Bianchetti",
    "Gonçalvez",
    "Nkosana",
    "Tlaxcalteco",
    "Rehmanzai",
    "Deshpandey",
    "Iyengaran",
    "Hathersage",
    "Molyneaux",
    "Ollerenshaw",
    "Birtwhistle",
    "Cattermole",
    "Sidebotham",
    "Van-der-Hoek",
    "de-Wolff",
]
TOWNS = [
    "Quenbyford",
    "Trevellick",
    "Osterley-Wick",
    "Haddlesham",
    "Brackenholme",
    "Dunmorrow",
    "Llanfarrow",
    "Invercairn",
]
NAMED = (
    "Scrub nurse {name} asked whether the {{Deaver retractor}} was needed.",
    "Seen by {name} at 14:20, {{lactate}} 4.2.",
    "{name} converted to open because of {{adhesions}}.",
    "The registrar, {name}, could not find the {{cystic duct}}.",
    "Dr {family} gave {{noradrenaline}} through the {{Swan-Ganz}} port.",
    "Mr {family} noticed the {{bleeding}} at once.",
    "Consultant: {initial} {family}. {{WHO checklist}} done.",
    "{FAMILY}, {given} for {{laparotomy}}, {{NCEPOD}} 1.",
    "His daughter {given} asked about the {{stoma}}.",
    "d/w {family}: start {{meropenem}} 1 g.",
    "cc {family}; {{histology}} pending.",
    "Signed {initial} {family}",
    "Anaesthetic by {name} and {name2}; {{Cormack-Lehane}} 3.",
    "{family} and {family2} discussed whether to {{pack}} the {{liver}}.",
    "mr {lower} had a {{hernia}} and no {{allergies}}",
    "Ms {name}'s {{INR}} was 2.4.",
    "Patient {name}, {{phaco}} with {{IOL}}.",
    "{given} from {{blood bank}} rang at 02:15.",
    "The family of {name} met the team.",
    "Told {given} to fetch the {{Bookwalter}}.",
    "Paged {name} at 03:10, no answer, {{BP}} 60/30.",
    "MRS {FAMILY} FELL AFTER THE {{SPINAL}}.",
    "Referred by Prof. {initial} {family} with {{Budd-Chiari}}.",
    "{name} (ODP) drew up {{suxamethonium}}.",
    "Assistants {family}, {family2}: {{traction}} too strong.",
    "{family}'s list overran; {{tourniquet}} time 140 min.",
    "Handed over from {given} to {given2} without the {{drain}} chart.",
    "Witness {name} heard the {{alarm}}.",
    "Nurse {given} {family} counted 9 of 10 {{swabs}}.",
    "I think {name} meant the {{left}} kidney.",
    "wife {given} gave the history of {{angina}}",
    "According to {family}, the {{clip}} slipped.",
    "pt {given} {family} c/o {{chest pain}}",
    "Frau {family} hatte eine {{Lungenembolie}}.",
    "La señora {family} tenía {{apendicitis}}.",
    "Le docteur {family} a posé un {{drain}}.",
    "Dr {family} ne {{CT}} karne ko bola.",
    "Operator {family}, supervisor {family2}, {{ERCP}}.",
    "Then {given} said stop and {{adrenaline}} was given.",
    "Thank you for seeing {name} with {{haematuria}}.",
)
OTHER = (
    "Admitted on {date} with {{cholangitis}}.", "Theatre {date}, {{knife to skin}} 09:14.", "DOB {date}", "{date}: {{CT}} showed a leak.",
    "The {{biopsy}} of {date} was benign.", "Consent signed {date} by proxy.", "Between {date} and discharge the {{CRP}} fell.",
    "Seen last in {month}, {{IOP}} 18.", "Happened on a {weekday} night, {{SpO2}} 81%.", "{weekday} 14:30, {{arrest call}}.",
    "NHS no. {nhs}, {{NEWS}} 7.", "{nhs} on the {{request}} form", "MRN {mrn}; {{group and save}} sent.", "hospital number {mrn}, {{bed}} ready",
    "Tel {phone} for the {{next of kin}}.", "rang {phone} twice before {{transfer}}", "{phone}", "bleep {bleep}, {{crash}} team", "ext. {bleep} for {{CT}}",
    "mail {mail} about the {{audit}}", "{mail}", "postcode {post}", "lives in {town}, {{smoker}}", "from {town}, known {{COPD}}",
    "transferred from {town} General Hospital with {{sepsis}}", "home: {house} {town} Road", "a {old}-year-old woman, {{frail}}", "aged {old}, {{Rockwood}} 6",
    "serial number {serial}, {{stent}}", "lot {serial} of {{bone cement}}", "GMC no {gmc}, {{consent}}", "accession no. {mrn} {{MRI}} spine",
    "incident number {mrn}, {{no harm}}", "policy number {serial}", "member no. {mrn}, {{pre-authorised}}", "reg plate {plate} in the {{car park}}",
    "see {url} for the {{video}}", "host {ip} rebooted mid-{{case}}", "user {user}, {{PACS}}", "trial number {serial}, {{arm B}}",
    "{nhs} {date} {{left}} {{nephrectomy}}", "fax {phone}, {{referral}}", "{house} {town} Street, ground floor, {{stairs}}",
)  # fmt: skip
CLEAN = (
    "{eponym} was seen at {clock}, {value}.", "A {gauge} needle and {suture} were used; {drug} was given.", "{drug} then {drug2}; BP {bp}, lactate 2.1.",
    "Acuity {acuity}, pressure 18 mmHg, {eponym} noted.", "{level} decompression, {suture} to the fascia, {value}.", "It may {verb} after {drug}; ratio {ratio}.",
    "{grade}, {value}, {eponym}.", "Lens {lens} D; {eponym}; {clock} wound.", "The {role} asked the {role2} for {drug}.", "At T+00:12:30 the {role} called for help; {value}.",
    "{eponym} failed, so {eponym2} was tried.", "{organism} grew at 48 h; {drug} changed to {drug2}.", "Over 24 h {value}; {grade}; plan: {drug}.",
    "No {eponym} on imaging; {level} intact.", "The {role} noted {eponym} and gave {drug}.", "POST-OP: {drug}, {value}, mobilise.",
    "- {suture} x 3\n- {drug}\n- {eponym}", "day 3: {value}, {organism}, {drug}",
)  # fmt: skip
FILL = {
    "eponym": "Haab striae|a Krukenberg spindle|Hutchinson sign|Cullen's sign|a Spigelian hernia|the sphincter of Oddi|Bowman layer|a Richter hernia|Mirizzi syndrome|a Dieulafoy lesion|Barrett's oesophagus|Boerhaave syndrome|Ogilvie syndrome|Volkmann contracture|a Maisonneuve fracture|Perthes disease|Takotsubo|a Rathke cleft cyst|Horner syndrome|the circle of Willis|Kussmaul breathing|Cheyne-Stokes breathing|Beck's triad|the Pringle manoeuvre|a Cattell-Braasch manoeuvre|Couinaud segment 4|Bosniak 2F|Trousseau sign|Homans sign|Schwann cells",
    "clock": "3 o'clock|6 o'clock|11 o'clock|the 9 o'clock position", "value": "Hb 82|CRP 140|urine 20 ml/h|SpO2 91%|temp 38.4|EtCO2 2.1 kPa|CVP 12|GCS 9",
    "gauge": "27G|18 G|25-gauge|16 Fr", "suture": "10-0 nylon|3-0 Vicryl|2-0 PDS|6-0 Prolene|4-0 Monocryl", "bp": "70/40|120/80|180/110",
    "drug": "metaraminol|glycopyrrolate|piperacillin-tazobactam|dexamethasone 8 mg|tranexamic acid 1 g|labetalol|ketamine 20 mg|enoxaparin|ondansetron|teicoplanin",
    "drug2": "vasopressin|clindamycin|furosemide 40 mg|magnesium 2 g|cyclizine", "acuity": "6/9|6/60|20/40|3/60|counting fingers", "level": "L4/5|C5/6|T10|L5/S1",
    "verb": "settle|need draining|recur|be repeated", "ratio": "1:4|1:10,000|2:1", "grade": "ASA III|Clavien-Dindo IIIb|grade 4|stage IIa|Hinchey II|Fontaine III",
    "lens": "+21.5|-3.0|+18.0", "role": "surgeon|registrar|anaesthetist|scrub nurse|consultant", "role2": "perfusionist|runner|midwife|trainee|radiographer",
    "eponym2": "a Blumgart repair|Kelly forceps|the Seldinger technique|a Bankart repair|a Roux-en-Y", "organism": "Staphylococcus aureus|Candida albicans|Enterobacter cloacae|Pseudomonas",
}  # fmt: skip


def _marked(letter: str, text: str) -> str:
    return f"[{letter}|{text}]"


def _nhs(random: Random) -> str:
    """A number of the range 999 ... with a right check digit (modulus 11)."""
    while True:
        body = f"999{random.randrange(10**6):06d}"
        check = (
            11 - sum(int(digit) * weight for digit, weight in zip(body, range(10, 1, -1), strict=True)) % 11
        )
        if check != 10:
            whole = f"{body}{check % 11}"
            return random.choice(
                [whole, f"{whole[:3]} {whole[3:6]} {whole[6:]}", f"{whole[:3]}-{whole[3:6]}-{whole[6:]}"]
            )


def _date(random: Random) -> str:
    day, month, year = random.randrange(1, 29), random.randrange(1, 13), random.randrange(2019, 2027)
    names = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ]
    name = names[month - 1]
    forms = (f"{day} {name} {year}", f"{day:02d}/{month:02d}/{year}", f"{day}.{month}.{year % 100:02d}", f"{year}-{month:02d}-{day:02d}",
             f"{name} {day}, {year}", f"{day}-{name[:3]}-{year}", f"the {day}th of {name}", f"{name[:3]} {year}", f"{day:02d}{name[:3].upper()}{year}",
             f"{day:02d}-{month:02d}-{year}", f"{name} {year}", f"{day} {name[:3]} '{year % 100:02d}", f"{year}/{month:02d}/{day:02d}")  # fmt: skip
    return random.choice(forms)


def _identifiers(random: Random, town: str) -> dict[str, str]:
    letters = "ABCDEFGHJKLMNPRSTUVWXYZ"
    phone = random.choice([f"07700 900{random.randrange(1000):03d}", f"01632 960{random.randrange(1000):03d}", f"+44 1632 960{random.randrange(1000):03d}",
                           f"(212) 555-01{random.randrange(100):02d}", f"07700900{random.randrange(1000):03d}"])  # fmt: skip
    pick = lambda count: "".join(random.choice(letters) for _ in range(count))  # noqa: E731
    return {
        "date": _marked("C", _date(random)), "month": _marked("C", random.choice(["January", "March", "October", "November"])),
        "weekday": _marked("C", random.choice(["Monday", "Tuesday", "Thursday", "Sunday"])), "nhs": _marked("G", _nhs(random)),
        "mrn": _marked("H", random.choice([f"{random.randrange(10**6, 10**7)}", f"K{random.randrange(10**5):05d}", f"00{random.randrange(10**6):06d}"])),
        "phone": _marked("D", phone), "bleep": _marked("D", f"{random.randrange(2000, 9999)}"), "mail": _marked("F", f"{pick(3).lower()}.{pick(5).lower()}@example.org"),
        "post": _marked("B", f"ZZ9{random.randrange(10)} {random.randrange(1, 10)}WZ"), "town": _marked("B", town), "house": _marked("B", f"{random.randrange(2, 200)}"),
        "old": _marked("C", f"{random.randrange(90, 105)}"), "serial": _marked("M", f"{pick(2)}{random.randrange(10**5, 10**6)}"), "gmc": _marked("K", f"{random.randrange(7000000, 7999999)}"),
        "plate": _marked("L", f"ZZ{random.randrange(51, 75)} {pick(3)}"), "url": _marked("N", f"https://{pick(4).lower()}.example.com/{pick(5).lower()}"),
        "ip": _marked("O", f"192.0.2.{random.randrange(255)}"), "user": _marked("R", f"{pick(1).lower()}{pick(6).lower()}{random.randrange(10, 99)}"),
    }  # fmt: skip


def _people(random: Random, given: Sequence[str], family: Sequence[str]) -> dict[str, str]:
    first, second = random.sample(given, 2)
    last, other = (
        name.replace("-der-", " der ").replace("de-W", "de W") for name in random.sample(family, 2)
    )
    return {
        "name": _marked("A", f"{first} {last}"), "name2": _marked("A", f"{second} {other}"), "given": _marked("A", first), "given2": _marked("A", second),
        "family": _marked("A", last), "family2": _marked("A", other), "FAMILY": _marked("A", last.upper()), "lower": _marked("A", last.lower()), "initial": f"{first[0]}.",
    }  # fmt: skip


def identified(each: int = 5) -> Iterator[Passage]:
    """Passages with somebody or something in them."""
    for template in (*NAMED, *OTHER):
        half, random = half_of(template), Random(template)
        given = [name for name in GIVEN if half_of(name) == half]
        family = [name for name in FAMILY if half_of(name) == half]
        for _ in range(each):
            filled = template.format(
                **_people(random, given, family), **_identifiers(random, random.choice(TOWNS))
            )
            yield parsed(filled.replace("{{", "{").replace("}}", "}"), half)


def clean(each: int = 14) -> Iterator[Passage]:
    """Passages with nothing in them that identifies."""
    for template in CLEAN:
        half, random = half_of(template), Random(template)
        for _ in range(each):
            terms = {
                key: [term for term in words.split("|") if half_of(term) == half] or words.split("|")
                for key, words in FILL.items()
            }
            text = template.format(**{key: random.choice(words) for key, words in terms.items()})
            yield Passage(text[0].upper() + text[1:], (), (), half)
