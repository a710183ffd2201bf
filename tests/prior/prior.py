#!/usr/bin/env python3
"""What a camera's own colour matrix does to the colours of dyed cloth: python3 prior.py. See README.md.

White balance, exposure and tone are perfectly known here; what is left is that a camera does not see as the observer
does, and that its maker's matrix can mend that only for some spectra and some light.
"""

import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "seasons"))
import camera
import cloth
import colour
import numpy as np
import spectra
from scipy.optimize import least_squares, linprog

SRGB_TO_XYZ = np.linalg.inv(camera.XYZ_TO_SRGB)
LIGHTS = (5000, 5500, 6500, 7500, 9500)  # the last is open shade
BALANCE_SD = 0.05  # how far the camera's guess of the light strays before the paper sets it right, natural logarithm


def cloths(count, rng):
    """Reflectances of dyed cloth: grounds and prints of every mordant, dry, wet and washed."""
    kinds = [c for table in (cloth.GROUNDS, cloth.PRINTS) for colours in table.values() for c in colours]
    made = []
    for i in range(count):
        wanted = np.array(kinds[i % len(kinds)]) + rng.normal(0, [5, 4, 5])
        dry = spectra.coloured(wanted, rng)
        made.append(cloth.in_state([dry], ("dry", "wet", "dry", "washed")[i % 4], rng)[0])
    return np.array(made)


def families(rng, each):
    """Cameras by family: near the first measured one, near the third, mixtures with stacked photodiodes in part."""
    first, stacked, third = camera.measured()

    def near(base):
        return [base] + [camera.perturbed(rng, base=base) for _ in range(each - 1)]

    mixed = [camera.perturbed(rng, stacked=0.3) for _ in range(each)]
    return {"first": near(first), "third": near(third), "mixed": mixed}


def situations(sensitivities, rng):
    """Matrices from the cloth's balanced sensor values to sRGB, one for each light and maker's choice, and the light's number.

    The maker fitted the 24 patches or natural spectra, under the light itself or under D55; the camera's guess of the
    light strays, and the paper then sets white right in the file's own primaries.
    """
    fits = (spectra.patches_24(), spectra.measured())
    for number, kelvin in enumerate(LIGHTS):
        light = spectra.daylight(kelvin)
        for chart in fits:
            for fitted in (light, spectra.daylight(5500)):
                matrix = camera.makers_matrix(sensitivities, fitted, chart)
                cast = np.exp(rng.normal(0, BALANCE_SD) * np.array([1, 0, -1]))
                file = matrix * cast
                yield number, light, file / (file @ np.ones(3))[:, None]


def seen(all_cameras, dyed, rng):
    """Linear sRGB of all cloths by all cameras: cameras × situations × cloths × 3, and each situation's light."""
    out, lights = [], []
    for sensitivities in all_cameras:
        rows = [(n, camera.seen(sensitivities, light, dyed) @ m.T) for n, light, m in situations(sensitivities, rng)]
        out.append([rgb for _, rgb in rows])
        lights = [n for n, _ in rows]
    return np.array(out), np.array(lights)


def to_lab(rgb):
    """CIELAB of linear sRGB."""
    return spectra.xyz_to_lab(100 * np.clip(rgb, 1e-5, None) @ SRGB_TO_XYZ.T)


def off(rgb, truth):
    """CIEDE2000 of linear sRGB from true CIELAB."""
    measured = to_lab(rgb)
    return colour.delta_E(measured, np.broadcast_to(truth, measured.shape), method="CIE 2000")


def common_matrix(rgb, truth):
    """The one matrix, keeping white, that leaves the least squared difference over all that is given."""
    flat = rgb.reshape(-1, rgb.shape[-2], 3)
    flat = flat[:: max(1, len(flat) // 200)]

    weight = 1 / (1 + 0.045 * np.hypot(truth[:, 1], truth[:, 2]))  # CIEDE2000's own discount of chroma

    def left(k):
        return ((to_lab(flat @ _keeping_white(k).T) - truth) * weight[:, None]).ravel()

    return _keeping_white(least_squares(left, np.zeros(6)).x)


def _keeping_white(entries):
    """A 3 by 3 matrix with rows that sum to 1, from the two entries off the diagonal of each row."""
    m = np.zeros((3, 3))
    m[~np.eye(3, dtype=bool)] = entries
    return m + np.diag(1 - m.sum(1))


def quantile_line(x, y, q):
    """The line a + b·x that a share q of y lies below, with b and a not below 0 (Koenker & Bassett 1978)."""
    design = np.column_stack([np.ones(len(y)), x])
    n, k = design.shape
    cost = np.r_[np.zeros(k), np.full(n, q), np.full(n, 1 - q)]
    equal = np.hstack([design, np.eye(n), -np.eye(n)])
    bounds = [(0, None)] * k + [(0, None)] * (2 * n)
    return linprog(cost, A_eq=equal, b_eq=y, bounds=bounds, method="highs").x[:k]


def report_errors(by_family, lights, truth):
    """The mean and 90th percentile of the difference, by family of cameras and by light."""
    print("CIEDE2000, mean (90th percentile)\n" + " ".join(f"{n:>12}" for n in ["family", *LIGHTS, "all"]))
    for family, rgb in by_family.items():
        d = off(rgb, truth)
        cells = [d[:, lights == n] for n in range(len(LIGHTS))] + [d]
        print(f"{family:>12} " + " ".join(f"{c.mean():5.2f} ({np.percentile(c, 90):4.2f})" for c in cells))


def report_bias(by_family, truth):
    """The mean shift by hue, over all cameras, beside the standard deviation about it."""
    rgb = np.concatenate([v.reshape(-1, *v.shape[-2:]) for v in by_family.values()])
    shift = to_lab(rgb) - truth
    chroma, hue = np.hypot(truth[:, 1], truth[:, 2]), np.degrees(np.arctan2(truth[:, 2], truth[:, 1])) % 360
    sectors = [("grey", chroma < 10)] + [
        (f"{low}-{high}", (chroma >= 10) & (hue >= low) & (hue < high))
        for low, high in ((0, 40), (40, 65), (65, 90), (90, 120), (120, 180), (180, 360))
    ]
    print("\nmean shift of L*, a*, b* (standard deviation) by hue")
    for name, own in sectors:
        mean, sd = shift[:, own].mean((0, 1)), shift[:, own].std((0, 1))
        print(f"{name:>8} n {own.sum():3d}  " + "  ".join(f"{m:+5.2f} ({s:4.2f})" for m, s in zip(mean, sd)))


def report_matrix(by_family, truth):
    """What one matrix for all cameras wins on a family it was not fitted to, with half and all of it applied."""
    print("\none matrix for all, fitted to the other families: mean CIEDE2000 before, half of it, all of it")
    for family, rgb in by_family.items():
        rest = np.concatenate([v.reshape(-1, *v.shape[-2:]) for f, v in by_family.items() if f != family])
        m = common_matrix(rest, truth)
        half = (np.eye(3) + m) / 2
        means = [off(rgb @ k.T, truth).mean() for k in (np.eye(3), half, m)]
        print(f"{family:>8} " + " ".join(f"{v:5.2f}" for v in means) + "  " + str(m.round(3).tolist()))


def report_spread(by_family, truth, rng):
    """How large a doubt covers two thirds, as a constant and along chroma, and how it holds for a family left out."""
    chroma = np.hypot(truth[:, 1], truth[:, 2])
    d = np.concatenate([off(rgb, truth).reshape(-1, len(truth)) for rgb in by_family.values()])
    print(f"\nquantiles of CIEDE2000: 0.68 {np.quantile(d, 0.68):.2f}, 0.95 {np.quantile(d, 0.95):.2f}")
    for low, high in ((0, 8), (8, 16), (16, 26), (26, 40), (40, 90)):
        own = d[:, (chroma >= low) & (chroma < high)]
        print(
            f"   C* {low:2d} to {high}: 0.68 {np.quantile(own, 0.68):.2f}, 0.95 {np.quantile(own, 0.95):.2f}, mean {own.mean():.2f}"
        )
    print(
        "two thirds below a + b C*, fitted without a family: a, b; of that family within once, twice; so with a constant"
    )
    for family, rgb in [*by_family.items(), ("none", None)]:
        rest = np.concatenate([off(v, truth).reshape(-1, len(truth)) for f, v in by_family.items() if f != family])
        some = rng.choice(rest.size, 5000, replace=False)
        a, b = quantile_line(np.broadcast_to(chroma, rest.shape).ravel()[some][:, None], rest.ravel()[some], 0.68)
        own = rest if rgb is None else off(rgb, truth).reshape(-1, len(truth))
        flat = np.quantile(rest, 0.68)
        shares = [(own <= k * said).mean() for said in (a + b * chroma, flat) for k in (1, 2)]
        print(f"{family:>8} {a:.3f} {b:.4f}  " + " ".join(f"{v:.2f}" for v in shares))


def report_look(by_family, truth):
    """What a maker's liking for colour adds: mean CIEDE2000 as the maker's pictures are, and with the liking taken out."""
    print("\ncolours pushed by the maker: mean CIEDE2000; with a push of 0.05 taken back from all")
    rgb = np.concatenate([v.reshape(-1, *v.shape[-2:]) for v in by_family.values()])
    back = np.linalg.inv(camera.pushed(0.05))
    for look in (0.0, 0.05, 0.1, 0.15):
        shown = rgb @ camera.pushed(look).T
        print(f"   {look:.2f}: {off(shown, truth).mean():.2f}; {off(shown @ back.T, truth).mean():.2f}")


def report_axes(by_family, truth):
    """How far the error goes in each direction of colour."""
    rgb = np.concatenate([v.reshape(-1, *v.shape[-2:]) for v in by_family.values()])
    sd = (to_lab(rgb) - truth).std((0, 1))
    print("\nstandard deviation over cameras, lights and cloths: L* {:.2f}, a* {:.2f}, b* {:.2f}".format(*sd))


def main():
    """Everything, with fixed seeds."""
    rng = np.random.default_rng(20260607)
    dyed = cloths(220, rng)
    truth = spectra.lab(dyed)
    by_family, lights = {}, None
    for family, members in families(rng, 12).items():
        by_family[family], lights = seen(members, dyed, rng)
    report_errors(by_family, lights, truth)
    report_bias(by_family, truth)
    report_matrix(by_family, truth)
    report_spread(by_family, truth, rng)
    report_look(by_family, truth)
    report_axes(by_family, truth)


if __name__ == "__main__":
    main()
