"""Recalculates workbooks in another program and holds every figure against the
JSON of the same command, in exact decimals.

The figures stored beside the formulas are taken out first, so that what comes
back was calculated. Usage: xlsx_check.py DRIPLEG CATALOGS_DEMO
"""

import csv
import io
import json
import pathlib
import random
import re
import subprocess
import sys
import tempfile
import zipfile
from decimal import ROUND_HALF_UP, Decimal

DRIPLEG = str(pathlib.Path(sys.argv[1]).resolve())
DEMO = pathlib.Path(sys.argv[2]).resolve()
# What a workbook is made of: no comments, no properties of our own, no macros.
PARTS = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels|docProps/(app|core)\.xml|xl/(workbook|styles|sharedStrings)\.xml"
    r"|xl/_rels/workbook\.xml\.rels|xl/theme/theme1\.xml|xl/worksheets/sheet\d\.xml"
)
# All sheets, as numbers and not as they are shown.
EVERY_SHEET = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"


def dripleg(command, job, out, *more):
    words = [DRIPLEG, command, str(job), "--date", "2026-11-02", "--out", str(out), *more]
    done = subprocess.run(words, capture_output=True, text=True)
    if not out.exists():
        sys.exit(f"{words}: {done.stderr[:2000]}")


def without_results(book):
    """Takes the stored results out of a workbook."""
    with zipfile.ZipFile(book) as old:
        parts = {name: old.read(name) for name in old.namelist()}
    for name in parts:
        if not PARTS.fullmatch(name):
            sys.exit(f"{book.name} has {name} in it")
    taken = 0
    with zipfile.ZipFile(book, "w", zipfile.ZIP_DEFLATED) as new:
        for name, content in parts.items():
            if name.startswith("xl/worksheets/sheet"):
                content, count = re.subn(rb"(</f>)<v>[^<]*</v>", rb"\1", content)
                taken += count
            new.writestr(name, content)
    return taken


def recalculated(folder, books):
    """The cells of all sheets: {book: {sheet: rows}}."""
    profile = f"-env:UserInstallation=file://{folder}/profile"
    words = ["soffice", profile, "--headless", "--convert-to", EVERY_SHEET, "--outdir", str(folder / "csv")]
    subprocess.run(words + [str(book) for book in books], check=True, capture_output=True, timeout=300)
    found = {}
    for book in books:
        sheets = {}
        for file in sorted((folder / "csv").glob(f"{book.stem}-*.csv")):
            with open(file, newline="", encoding="utf-8") as rows:
                sheets[file.stem[len(book.stem) + 1 :]] = list(csv.reader(rows))
        if not sheets:
            sys.exit(f"{book.name} could not be read")
        found[book.stem] = sheets
    return found


def figures(rows, column):
    """The numbers of a column, in their order."""
    found = []
    for row in rows:
        cell = row[column] if column < len(row) else ""
        if re.fullmatch(r"-?[0-9]+(\.[0-9]+)?(E-?[0-9]+)?", cell):
            found.append(Decimal(cell))
        elif cell.startswith(("#", "Err:")):
            sys.exit(f"{cell} in {row}")
    return found


def hold(what, found, wanted):
    """Both lists are the same, to the last cent."""
    wanted = [Decimal(one) for one in wanted]
    if found != wanted:
        for at, pair in enumerate(zip(found, wanted)):
            if pair[0] != pair[1]:
                sys.exit(f"{what}: figure {at + 1} is {pair[0]}, printed is {pair[1]}")
        sys.exit(f"{what}: {len(found)} figures, printed are {len(wanted)}")
    return len(found)


def priced(amounts):
    return [one for one in amounts if one is not None]


def check_quote(name, sheets, paper):
    lines, front = [], []
    for section in paper["sections"]:
        lines += priced(line["amount"] for line in section["lines"]) + [section["subtotal"]]
        front.append(section["subtotal"])
    rounding = priced([paper["rounding"]])
    printed = figures(sheets["Lines"], 4)
    sums = rounding + [paper["subtotal"], paper["tax"]] + priced([paper["total"]])
    # Where nothing is taxed, neither the tax nor the sum before it is printed.
    if Decimal(paper["tax"] or 0) == 0 and len(printed) == len(lines) + len(sums) - 2:
        sums = rounding + priced([paper["total"]])
    payment = [step["amount"] for step in paper["payment"]]
    together = priced([paper["total"]]) if payment else []
    held = hold(f"{name} lines", printed, lines + sums)
    return held + hold(f"{name} front", figures(sheets["Quote"], 2), front + sums + payment + together)


def check_estimate(name, sheets, paper):
    held = 0
    for side, column in (("cost", 5), ("price", 7)):
        wanted = []
        for section in paper["sections"]:
            wanted += [line[side]["amount"] for line in section["lines"] if line[side]] + [section[side]]
        held += hold(f"{name} {side}", figures(sheets["Lines"], column), wanted)
    taxed = [paper["tax"]] if Decimal(paper["tax"] or 0) != 0 else []
    wanted = [step["amount"] for step in paper["steps"]] + taxed + priced([paper["total"]])
    if not paper["owner"]:
        wanted += priced([paper["margin_percent"], paper["markup_percent"]])
    payment = [step["amount"] for step in paper["payment"]]
    wanted += payment + (priced([paper["total"]]) if payment else [])
    return held + hold(f"{name} front", figures(sheets["Estimate"], 2), wanted)


def check_shop(name, sheets, paper):
    amounts, running = [], []
    for group in paper["groups"]:
        amounts += priced(line["amount"] for line in group["lines"]) + [group["subtotal"]]
        running += priced(line["running_total"] for line in group["lines"])
    amounts += [paper["without_spares"], paper["total"]] if paper["total"] else [paper["priced"]]
    held = hold(f"{name} amounts", figures(sheets["List"], 7), amounts)
    return held + hold(f"{name} running", figures(sheets["List"], 8), running)


CHECKS = {"quote": check_quote, "estimate": check_estimate, "shop": check_shop}


def awkward_rates(chance, text):
    """Wages, hours and percentages that end in halves of a cent."""
    def hours(match):
        return f'{match[1]}= "{Decimal(chance.randint(1, 399)).scaleb(-3)}"'

    text = re.sub(r'(?m)^((?!price|disposal)[^=\n]*)= "0\.\d+"', hours, text)
    text = text.replace('"58.00"', f'"{chance.randint(30, 90)}.{chance.choice(["04", "10", "25", "50", "36"])}"')
    text = text.replace('percent = "6.5"', f'percent = "{chance.choice(["5", "7.25", "8.875", "12.5"])}"')
    text = text.replace('overhead      = "12"', f'overhead      = "{chance.choice(["10", "12.5", "17.25"])}"')
    on = chance.choice(["materials", "all", "none"])
    text = text.replace('on      = "materials"', f'on      = "{on}"')
    if chance.random() < 0.5:
        text = text.replace('rounding      = "line" ', 'rounding      = "total"\nround_to      = 5\n')
    return text


def awkward_prices(chance, text, currency):
    """Pipe by the tenth of a metre, and prices that end in fives."""
    rows = list(csv.DictReader(text.splitlines()))
    for row in rows:
        if currency == "USD":
            row["price"] = f"{chance.randint(1, 60)}.{chance.choice(['05', '15', '35', '67', '95'])}"
        elif currency == "JPY":
            row["price"] = str(chance.randint(1, 9000) * 5)
        else:
            row["price"] = f"{chance.randint(1, 60)}.{chance.choice(['005', '015', '335', '667'])}"
        row["currency"] = currency
        if row["part"] == "pipe":
            row["unit"] = "m"
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0])
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def halves(chance, count):
    """Products that are half a cent exactly, or as near to it as they can be."""
    while count:
        decimals = chance.choice([1, 2, 3, 4])
        quantity = chance.randint(1, 10 ** chance.randint(1, 7))
        cents = chance.randint(1, 10 ** chance.randint(1, 6))
        rest = quantity * cents % 10**decimals
        if abs(2 * rest - 10**decimals) <= 2:
            count -= 1
            yield Decimal(quantity).scaleb(-decimals), Decimal(cents).scaleb(-2)


def book_of(pairs, book):
    """A workbook with the formula of every amount for each pair."""
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    links = "http://schemas.openxmlformats.org/package/2006/relationships"
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    types = "http://schemas.openxmlformats.org/package/2006/content-types"
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    rows = "".join(
        f'<row r="{at}"><c r="A{at}"><v>{quantity}</v></c><c r="B{at}"><v>{price}</v></c>'
        f'<c r="C{at}"><f>ROUND(ROUND(A{at}*B{at},6),2)</f></c></row>'
        for at, (quantity, price) in enumerate(pairs, 1)
    )
    parts = {
        "[Content_Types].xml": f'<Types xmlns="{types}"><Default Extension="rels" ContentType="application/vnd.'
        f'openxmlformats-package.relationships+xml"/><Override PartName="/book.xml" ContentType="{kind}.sheet.main+xml"/>'
        f'<Override PartName="/sheet.xml" ContentType="{kind}.worksheet+xml"/></Types>',
        "_rels/.rels": f'<Relationships xmlns="{links}"><Relationship Id="a" Type="{office}/officeDocument" '
        'Target="book.xml"/></Relationships>',
        "_rels/book.xml.rels": f'<Relationships xmlns="{links}"><Relationship Id="a" Type="{office}/worksheet" '
        'Target="sheet.xml"/></Relationships>',
        "book.xml": f'<workbook xmlns="{main}" xmlns:r="{office}"><sheets><sheet name="Halves" sheetId="1" r:id="a"/>'
        "</sheets></workbook>",
        "sheet.xml": f'<worksheet xmlns="{main}"><sheetData>{rows}</sheetData></worksheet>',
    }
    with zipfile.ZipFile(book, "w", zipfile.ZIP_DEFLATED) as file:
        for name, text in parts.items():
            file.writestr(name, text)


def main():
    chance = random.Random(20261102)
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        books, papers = [], {}

        def add(command, label, job, *more):
            book = folder / f"{command}_{label}.xlsx"
            dripleg(command, job, book, *more)
            dripleg(command, job, book.with_suffix(".json"), *more)
            paper = json.loads(book.with_suffix(".json").read_text())
            if without_results(book) < 10:
                sys.exit(f"{book.name} has next to no formulas")
            books.append(book)
            papers[book.stem] = (command, paper)

        iron, rates = DEMO / "iron.csv", DEMO / "rates.toml"
        for job in ("millrace", "garage", "annex"):
            for command in CHECKS:
                inputs = ["--catalog", str(iron)] + (["--rates", str(rates)] if command != "shop" else [])
                add(command, job, DEMO / f"{job}.toml", *inputs)
        for number in range(8):
            currency = ["USD", "USD", "JPY", "KWD"][number % 4]
            own_prices, own_rates = folder / f"{number}.csv", folder / f"{number}.toml"
            own_prices.write_text(awkward_prices(chance, iron.read_text(), currency))
            text = awkward_rates(chance, rates.read_text()).replace('"USD"', f'"{currency}"')
            if currency == "JPY":
                text = re.sub(r'(?m)^((?:wage|price|least_price) *= "\d+)\.\d\d"', r'\g<1>5"', text)
                text = re.sub(r'(?m)^(disposal_lb *= )"[\d.]+"', r'\g<1>"15"', text)
            own_rates.write_text(text)
            job = folder / f"job-{number}.toml"
            job.write_text((DEMO / "millrace.toml").read_text())
            for command in ("quote", "estimate"):
                add(command, f"awkward{number}", job, "--catalog", str(own_prices), "--rates", str(own_rates))

        # Own work, money kept back, and prices that are missing.
        for name, text in (
            ("owner", re.sub(r"(?m)^(wage|floor_margin|least_price).*\n", "", rates.read_text())),
            ("kept", rates.read_text() + '\n[retainage]\npercent = "5"\nuntil = "30 days after"\n'),
        ):
            (folder / f"{name}.toml").write_text(text)
            inputs = ["--catalog", str(iron), "--rates", str(folder / f"{name}.toml")]
            add("estimate", name, DEMO / "annex.toml", *inputs)
        rows = [row for row in iron.read_text().splitlines() if not row.startswith("filter,")]
        (folder / "holes.csv").write_text("\n".join(rows))
        for command in CHECKS:
            inputs = ["--catalog", str(folder / "holes.csv")]
            inputs += ["--rates", str(rates)] if command != "shop" else []
            add(command, "holes", DEMO / "millrace.toml", *inputs)

        pairs = list(halves(chance, 20_000))
        book_of(pairs, folder / "halves.xlsx")
        found = recalculated(folder, books + [folder / "halves.xlsx"])
        held = 0
        for stem, (command, paper) in papers.items():
            held += CHECKS[command](stem, found[stem], paper)
        cent = Decimal("0.01")
        amounts = [(quantity * price).quantize(cent, ROUND_HALF_UP) for quantity, price in pairs]
        hold("halves", figures(found["halves"]["Halves"], 2), amounts)
        exact = sum((quantity * price * 1000) % 10 == 5 for quantity, price in pairs)
        print(f"{held} figures of {len(papers)} workbooks, and {len(pairs)} products of which {exact} are exact halves")


main()
