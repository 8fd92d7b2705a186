"""The handbook against general-purpose reference libraries: water by IAPWS, kinetics by an ODE solver.

    python3 against_libraries.py SYRUPWRIGHT water|kinetics ...

Asks the built command line, so what is compared is what a person is shown. Prints "ok - ..." or
"not ok - ..." with the worst deviation for each comparison. Each part needs its own library, iapws or
scipy, and not the other's. test_libraries.sh runs it.
"""
import json
import math
import subprocess
import sys

PROGRAM = sys.argv[1]
AIR_INDEX = 1.000273  # of air against vacuum at 589 nm, 15 degC (Edlen 1966): handbooks count against air
failures = 0


def ask(name, **inputs):
    """Rows of a function, for which "A..B/STEP" makes several; a single one is a row too."""
    words = [f"{key}={value}" for key, value in inputs.items()]
    done = subprocess.run([PROGRAM, "handbook", name, "--json", *words], capture_output=True, text=True)
    reply = json.loads(done.stdout)
    if done.returncode != 0:
        raise SystemExit(f"not ok - {name} {words}: {done.stdout}{done.stderr}")
    if "rows" in reply:
        return reply["rows"]
    return [{q["name"]: q["value"] for q in reply["inputs"] + reply["results"]}]


def check(title, pairs, tolerance, unit, relative=False):
    """Pairs of ours and theirs; tolerance absolute, or relative."""
    global failures
    ours, theirs = max(pairs, key=lambda p: abs(p[0] - p[1]) / (abs(p[1]) if relative else 1))
    worst = (ours - theirs) / (theirs if relative else 1)
    good = len(pairs) > 0 and abs(worst) <= tolerance
    failures += not good
    print(f"{'ok' if good else 'not ok'} - {title}: {len(pairs)} cases, worst {worst:+.2g} {unit}, "
          f"tolerance {tolerance:g}")


def water():
    from iapws import IAPWS97
    from iapws._iapws import _Dielectric, _Kw, _Liquid, _Refractive

    def liquid(temp_c):
        return _Liquid(temp_c + 273.15)

    rows = ask("sucrose_density", strength_pct=0, temp_c="0..100/5")
    check("density of water, IAPWS supplementary release", [
        (r["density_kg_m3"], liquid(r["temp_c"])["rho"]) for r in rows], 0.01, "kg/m3")
    rows = ask("sucrose_viscosity", strength_pct=0, temp_c="0..100/5")
    check("viscosity of water, IAPWS", [
        (r["viscosity_mpa_s"], 1e3 * liquid(r["temp_c"])["mu"]) for r in rows], 0.01, "of it", True)
    rows = ask("sucrose_heat_capacity", strength_pct=0, temp_c="0..100/5")
    check("specific heat of water, IAPWS (ours is constant)", [
        (r["heat_capacity_j_kg_k"], 1e3 * liquid(r["temp_c"])["cp"]) for r in rows], 0.008, "of it", True)
    rows = ask("water_vapour_pressure", temp_c="0.5..130.5/5")
    check("vapour pressure of water, IAPWS-IF97", [
        (r["pressure_kpa"], 1e3 * IAPWS97(T=r["temp_c"] + 273.15, x=0).P) for r in rows], 1e-8, "of it", True)
    rows = ask("water_boiling_point", pressure_kpa="50..110/5")
    check("boiling point of water, IAPWS-IF97", [
        (r["temp_c"], IAPWS97(P=r["pressure_kpa"] / 1e3, x=0).T - 273.15) for r in rows], 1e-6, "K")
    rows = ask("water_evaporation_heat", temp_c="5..100/5")
    check("heat of evaporation of water, IAPWS-IF97", [
        (r["heat_kj_kg"], IAPWS97(T=r["temp_c"] + 273.15, x=1).h - IAPWS97(T=r["temp_c"] + 273.15, x=0).h)
        for r in rows], 2e-3, "of it", True)
    rows = ask("water_permittivity", temp_c="5..95/10")
    check("relative permittivity of water, IAPWS", [
        (r["permittivity"], _Dielectric(liquid(r["temp_c"])["rho"], r["temp_c"] + 273.15)) for r in rows],
        4e-3, "of it", True)  # the two descend from different measurements
    rows = ask("water_pkw", temp_c="0..90/5")
    check("ion product of water, IAPWS", [
        (r["pkw"], _Kw(liquid(r["temp_c"])["rho"], r["temp_c"] + 273.15)) for r in rows], 0.02, "pH")
    rows = ask("sucrose_refractive_index", strength_pct=0, temp_c="0..100/5")
    check("refractive index of water, IAPWS", [
        (r["index"], _Refractive(liquid(r["temp_c"])["rho"], r["temp_c"] + 273.15, 0.5893) / AIR_INDEX)
        for r in rows], 1e-4, "")


def rate_spline(name, key, **inputs):
    """ln of a rate over temperature, from what the program says of it."""
    from scipy.interpolate import CubicSpline

    rows = ask(name, temp_c="0..105/1", **inputs)
    spline = CubicSpline([r["temp_c"] for r in rows], [math.log(r[key]) for r in rows])
    return lambda temp_c: math.exp(spline(temp_c))


def ramp_by_solver(end, from_c, to_c, hours, ph, strength_pct):
    """HMF mg/kg and % inverted of a ramp; end is low, best or high."""
    from scipy.integrate import solve_ivp

    invert = rate_spline("inversion_rate", f"{end}_per_h", ph=ph, strength_pct=strength_pct)
    form = rate_spline("hmf_rate", f"{end}_mg_kg_h", ph=ph, fructose_pct=38)

    def slope(t, state):
        temp_c = from_c + (to_c - from_c) * t / hours
        inverted, _ = state
        # 342.3 g of sucrose and 18 of water make 180.16 g of fructose
        fructose_pct = strength_pct * inverted * 180.156 / 342.296
        return [invert(temp_c) * (1 - inverted), form(temp_c) * fructose_pct / 38]

    solved = solve_ivp(slope, (0, hours), [0, 0], method="DOP853", rtol=1e-9, atol=1e-14)
    return solved.y[1][-1], 100 * solved.y[0][-1]


def kinetics():
    cases = [(20, 60, 1, 4, 62.5), (60, 60, 4, 4, 62.5), (80, 30, 12, 3.5, 66.7), (25, 90, 2, 3, 50),
             (5, 45, 300, 4.5, 70), (95, 95, 1, 2.5, 62.5), (40, 41, 1000, 6, 60)]
    hmf, inverted = ({e: [] for e in ("low", "best", "high")} for _ in range(2))
    for from_c, to_c, time_h, ph, strength_pct in cases:
        along = dict(from_c=from_c, to_c=to_c, time_h=time_h, ph=ph, strength_pct=strength_pct)
        formed, split = ask("change_ramp", **along)[0], ask("change_ramp_inverted", **along)[0]
        for end in hmf:
            theirs, share = ramp_by_solver(end, from_c, to_c, time_h, ph, strength_pct)
            hmf[end].append((formed[f"{end}_mg_kg"], theirs))
            inverted[end].append((split[f"{end}_inverted_pct"], share))
    for end in hmf:
        check(f"inversion along a ramp, {end} end, ODE solver", inverted[end], 1e-4, "of it", True)
        check(f"HMF along a ramp, {end} end, ODE solver", hmf[end], 1e-3, "of it", True)


PARTS = {"water": water, "kinetics": kinetics}
for part in sys.argv[2:]:
    PARTS[part]()
sys.exit(1 if failures else 0)
