#!/usr/bin/env python3
"""Holds the arithmetic of estimates and quotes against exact decimals.

Ten thousand random jobs (rates, prices, counts; three currencies; both rounding
policies) are priced by `cargo run --release --example money_check -p pricing` and
worked out again here with Python's decimal, half up, to the smallest coin: every
line, section, step, tax, total and payment.
Exit 1 if a figure differs, or if nothing was priced.
"""

import json
import random
import subprocess
import sys
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_HALF_UP, Decimal, getcontext
from pathlib import Path

getcontext().prec = 60
ROOT = Path(__file__).resolve().parent.parent
JOBS = 10_000
DECIMALS = {"USD": 2, "JPY": 0, "KWD": 3}
HUNDRED = Decimal(100)
PARTS = [
    ("pipe", "feet", "ft"),
    ("elbow-90", "elbows", "each"),
    ("ball-valve", "valves", "each"),
    ("hanger", "hangers", "each"),
]


def number(luck, most, decimals):
    """A number from nought to `most` with at most so many decimals."""
    decimals = luck.randint(0, decimals)
    return Decimal(luck.randint(0, most * 10**decimals)).scaleb(-decimals)


def random_job(luck):
    code = luck.choice(list(DECIMALS))
    coins = DECIMALS[code]
    scale = 100 if coins == 0 else 1
    price = lambda most: Decimal(luck.randint(1, most * scale * 10**coins)).scaleb(-coins)
    job = {
        "code": code,
        "owner": luck.random() < 0.1,
        "wage": price(90),
        "overhead": number(luck, 40, 3),
        "contingency": number(luck, 20, 2),
        "margin": number(luck, 60, 4),
        "floor_margin": number(luck, 40, 1),
        "least_price": price(4000),
        "round_to": luck.choice([None, 1, 5, 10, 100]),
        "crew": luck.randint(1, 4),
        "day_hours": number(luck, 9, 1) + 1,
        "hours": {
            key: number(luck, 1, 3)
            for key in ["joint", "pipe_10ft", "support", "device", "drop", "drain"]
        }
        | {key: number(luck, 4, 2) for key in ["mobilisation", "pressure_test"]},
        "congestion": number(luck, 30, 2),
        "least_hours": number(luck, 40, 1),
        "high": luck.random() < 0.5,
        "height_percent": number(luck, 50, 2),
        "tax": number(luck, 25, 3),
        "tax_on": luck.choice(["materials", "all", "none"]),
        "kept": luck.choice([Decimal(0), number(luck, 50, 2)]),
        "prices": {part: price(60) for part, _, _ in PARTS},
        "feet": luck.randint(1, 900),
        "elbows": luck.randint(1, 80),
        "valves": luck.randint(1, 30),
        "hangers": luck.randint(1, 90),
        "joints": luck.randint(0, 400),
        "drops": luck.randint(0, 20),
        "drains": luck.randint(0, 20),
    }
    shares = [luck.randint(0, 10_000) for _ in range(luck.randint(0, 4))]
    cuts = sorted(shares)
    parts = [b - a for a, b in zip([0, *cuts], [*cuts, 10_000])]
    job["payment"] = [Decimal(part).scaleb(-2) for part in parts] if luck.random() < 0.9 else []
    costs = []
    for at in range(luck.randint(0, 4)):
        cost = {"text": f"cost {at}", "taxed": luck.random() < 0.5, "above": luck.random() < 0.3}
        if luck.random() < 0.3:
            cost["percent"] = number(luck, 12, 2)
        else:
            cost["price"] = price(200)
            cost["quantity"] = luck.choice([Decimal(1), number(luck, 60, 2) + 1])
            cost["per"] = luck.choice(["job", "day", "person-day"])
        costs.append(cost)
    job["costs"] = costs
    job["allowance"] = None
    if luck.random() < 0.4:
        job["allowance"] = {"taxed": luck.random() < 0.5}
        job["allowance"] |= luck.choice([{"percent": number(luck, 20, 2)}, {"price": price(300)}])
    job["provisional"] = [
        {"price": price(500), "in_total": luck.random() < 0.6, "taxed": luck.random() < 0.5}
        for _ in range(luck.randint(0, 2))
    ]
    return job


def asked(job):
    """The job as the tool reads it."""
    hours = job["hours"]
    rates = [
        f'currency = "{job["code"]}"',
        f'wage = "{job["wage"]}"',
        f'owner = {"true" if job["owner"] else "false"}',
        f'overhead = "{job["overhead"]}"',
        f'contingency = "{job["contingency"]}"',
        f'margin = "{job["margin"]}"',
        f'floor_margin = "{job["floor_margin"]}"',
        f'least_price = "{job["least_price"]}"',
        "validity_days = 30",
        f'crew = {job["crew"]}',
        f'day_hours = "{job["day_hours"]}"',
    ]
    if job["round_to"]:
        rates += ['rounding = "total"', f'round_to = {job["round_to"]}']
    rates += ["[company]", 'name = "n"', "[hours]"]
    rates += [f'{key} = "{hours[key]}"' for key in hours if key not in ("joint", "pipe_10ft")]
    rates += [f'joint = {{ "1in" = "{hours["joint"]}" }}']
    rates += [f'pipe_10ft = {{ "1in" = "{hours["pipe_10ft"]}" }}']
    rates += ["[adders]", f'congestion = "{job["congestion"]}"', f'least_hours = "{job["least_hours"]}"']
    rates += ["[adders.height]", 'above = "12-0"', f'percent = "{job["height_percent"]}"']
    rates += ["[tax]", 'label = "tax"', f'percent = "{job["tax"]}"', f'on = "{job["tax_on"]}"']
    for share in job["payment"]:
        rates += ["[[payment]]", 'when = "then"', f'percent = "{share}"']
    if job["payment"] and job["kept"]:
        rates += ["[retainage]", f'percent = "{job["kept"]}"', 'until = "later"']
    for cost in job["costs"]:
        rates += ["[[cost]]", f'text = "{cost["text"]}"']
        rates += [f'taxed = {"true" if cost["taxed"] else "false"}']
        rates += ['when = "above 12-0"'] if cost["above"] else []
        keys = [key for key in ("percent", "price", "quantity", "per") if key in cost]
        rates += [f'{key} = "{cost[key]}"' for key in keys]
    yes = lambda told: "true" if told else "false"
    if job["allowance"]:
        rates += ["[allowance]", 'text = "a"', f'taxed = {yes(job["allowance"]["taxed"])}']
        keys = [key for key in ("percent", "price") if key in job["allowance"]]
        rates += [f'{key} = "{job["allowance"][key]}"' for key in keys]
    for one in job["provisional"]:
        rates += ["[[provisional]]", 'text = "p"', f'price = "{one["price"]}"']
        rates += [f"{key} = {yes(one[key])}" for key in ("in_total", "taxed")]
    rows = ["part,system,size,unit,pack,price"]
    for part, _, unit in PARTS:
        system = "" if part == "ball-valve" else "black-iron"
        rows.append(f'{part},{system},1in,{unit},1,{job["prices"][part]}')
    counts = ["elbows", "valves", "hangers", "feet", "joints", "drops", "drains", "high"]
    return {"rates": "\n".join(rates), "catalog": "\n".join(rows)} | {key: job[key] for key in counts}


def ceiling(value, step):
    return (value / step).to_integral_value(ROUND_CEILING) * step


def labour(job):
    """Hours of each kind of work, and then what adds to them."""
    rate = job["hours"]
    per_foot = rate["pipe_10ft"] / 10
    work = [
        (job["joints"], rate["joint"], True),
        (job["feet"], per_foot, True),
        (job["hangers"], rate["support"], True),
        (job["valves"], rate["device"], False),
        (job["drops"], rate["drop"], False),
        (job["drains"], rate["drain"], False),
        (1, rate["mobilisation"], False),
        (1, rate["pressure_test"], False),
    ]
    hours = [count * each for count, each, _ in work]
    high = sum(count * each for count, each, up in work if up) if job["high"] else Decimal(0)
    all_work = sum(hours)
    cent = Decimal("0.01")
    adders = [
        ceiling(high * job["height_percent"] / HUNDRED, cent),
        ceiling(all_work * job["congestion"] / HUNDRED, cent),
    ]
    so_far = all_work + sum(adders)
    if so_far < job["least_hours"]:
        adders.append(job["least_hours"] - so_far)
    return [one for one in hours + adders if one]


def expected(job):
    coin = Decimal(1).scaleb(-DECIMALS[job["code"]])
    money = lambda exact: exact.quantize(coin, ROUND_HALF_UP)
    owner = job["owner"]
    overhead = Decimal(0) if owner else job["overhead"]
    margin = Decimal(0) if owner else job["margin"]
    wage = Decimal(0) if owner else job["wage"]
    selling = lambda cost: money(cost * (HUNDRED + overhead + job["contingency"]) / (HUNDRED - margin))

    def line(unit, quantity):
        return [
            quantity,
            [unit, money(unit * quantity)],
            [selling(unit), money(selling(unit) * quantity)],
        ]

    cost_of = lambda lines: sum((one[1][1] for one in lines), Decimal(0))
    price_of = lambda lines: sum((one[2][1] for one in lines), Decimal(0))
    sections = [[line(job["prices"][part], Decimal(job[count]))] for part, count, _ in PARTS]
    materials, goods = (sum(map(side, sections), Decimal(0)) for side in (cost_of, price_of))

    hours = labour(job)
    days = ceiling(sum(hours) / (job["crew"] * job["day_hours"]), Decimal("0.5"))
    begun = ceiling(days, Decimal(1))
    times = {"job": Decimal(1), "day": begun, "person-day": begun * job["crew"]}
    others = []
    for cost in job["costs"]:
        # The layout is above 12 ft or below it as a whole.
        if cost["above"] and not (job["high"]):
            continue
        if "percent" in cost:
            one = line(money(materials * cost["percent"] / HUNDRED), Decimal(1))
        else:
            one = line(cost["price"], cost["quantity"] * times[cost["per"]])
        others.append(one)
        goods += one[2][1] if cost["taxed"] else 0
    work = [line(wage, one) for one in hours]
    sections += [others, work]
    if job["allowance"]:
        all_else = sum(map(cost_of, sections), Decimal(0))
        percent = job["allowance"].get("percent")
        fixed = job["allowance"].get("price")
        one = line(fixed if percent is None else money(all_else * percent / HUNDRED), Decimal(1))
        goods += one[2][1] if job["allowance"]["taxed"] else 0
        sections.append([one])

    cost = sum(map(cost_of, sections), Decimal(0))
    bears = money(cost * overhead / HUNDRED), money(cost * job["contingency"] / HUNDRED)
    full = cost + sum(bears)
    lines = sum(map(price_of, sections), Decimal(0))
    price, rounding = lines, None
    if job["round_to"]:
        step = Decimal(job["round_to"])
        price = money((lines / step).to_integral_value(ROUND_HALF_UP) * step)
        rounding = price - lines
    later = [one for one in job["provisional"] if one["in_total"]]
    goods += sum(one["price"] for one in later if one["taxed"])
    subtotal = price + sum(one["price"] for one in later)
    base = {"materials": goods, "all": subtotal, "none": Decimal(0)}[job["tax_on"]]
    tax = money(base * job["tax"] / HUNDRED)
    total = subtotal + tax
    profit = price - full
    percent = lambda part, whole: (
        (part * HUNDRED / whole).quantize(Decimal("0.0001"), ROUND_HALF_UP) if whole else None
    )
    floor = money(full * HUNDRED / (HUNDRED - job["floor_margin"]))
    under = [floor, job["least_price"]]
    return {
        "sections": [section for section in sections if section],
        "cost": cost,
        "full": full,
        "hours": sum(hours),
        "days": days,
        "margin": percent(profit, price),
        "markup": percent(profit, full),
        "rounding": rounding,
        "price": price,
        "subtotal": subtotal,
        "tax_base": base,
        "tax": tax,
        "total": total,
        "payment": shares(total, job, coin),
        "warnings": 0 if owner else sum(one > price for one in under),
    }


def shares(total, job, coin):
    """Cut down to the coin; what is left over goes to the largest remainders."""
    if not job["payment"]:
        return []
    kept = job["kept"]
    weights = [share * (HUNDRED - kept) for share in job["payment"]]
    weights += [HUNDRED * kept] if kept else []
    exact = [total * weight / sum(weights) for weight in weights]
    cut = [one.quantize(coin, ROUND_DOWN) for one in exact]
    left = int((total - sum(cut)) / coin)
    order = sorted(range(len(cut)), key=lambda at: (-(exact[at] - cut[at]), at))
    for at in order[:left]:
        cut[at] += coin
    return cut


def differences(ours, theirs):
    def same(name, text, figure):
        if (None if text is None else Decimal(text)) != figure:
            yield f"{name}: {text}, not {figure}"

    for name in ("hours", "days", "margin", "markup", "rounding", "price", "subtotal", "tax_base", "tax", "total"):
        yield from same(name, ours[name], theirs[name])
    yield from same("warnings", ours["warnings"], theirs["warnings"])
    if [Decimal(one) for one in ours["payment"]] != theirs["payment"]:
        yield f"payment: {ours['payment']}, not {theirs['payment']}"
    figures = lambda line: [Decimal(line[1]), *([Decimal(one) for one in side] for side in line[2:])]
    lines = [[figures(line) for line in section["lines"]] for section in ours["sections"]]
    if lines != theirs["sections"]:
        yield f"lines: {lines}, not {theirs['sections']}"
    for section in ours["sections"]:
        for side, at in (("cost", 1), ("price", 2)):
            whole = sum((figures(line)[at][1] for line in section["lines"]), Decimal(0))
            yield from same(f"{section['title']} {side}", section[side], whole)
    so_far = Decimal(0)
    for text, amount, is_sum in ours["steps"]:
        if is_sum:
            yield from same(text, amount, so_far)
        else:
            so_far += Decimal(amount)
    sums = {text: Decimal(amount) for text, amount, is_sum in ours["steps"] if is_sum}
    if sums.get("Cost") != theirs["cost"] or sums.get("Price before tax") != theirs["price"]:
        yield f"steps: {ours['steps']}"
    if sums.get("Cost with all that it bears", theirs["full"]) != theirs["full"]:
        yield f"steps: {ours['steps']}, not {theirs['full']}"


def main():
    luck = random.Random(20261102)
    jobs = [random_job(luck) for _ in range(JOBS)]
    command = ["cargo", "run", "--quiet", "--release", "--locked", "-p", "pricing", "--example", "money_check"]
    text = "".join(json.dumps(asked(job)) + "\n" for job in jobs)
    run = subprocess.run(command, input=text, capture_output=True, text=True, cwd=ROOT, check=False)
    if run.returncode:
        print(run.stderr, file=sys.stderr)
        return 1
    answers = [json.loads(line) for line in run.stdout.splitlines()]
    faults = rounded = 0
    for job, ours in zip(jobs, answers, strict=True):
        rounded += bool(job["round_to"])
        for fault in differences(ours, expected(job)):
            faults += 1
            if faults <= 10:
                print(f"{fault}\n  {job}", file=sys.stderr)
    figures = sum(len(section["lines"]) for ours in answers for section in ours["sections"])
    print(f"decimal: {len(answers)} jobs ({rounded} with a rounded total), {figures} lines, {faults} figures wrong")
    return 0 if answers and rounded and not faults else 1


if __name__ == "__main__":
    sys.exit(main())
