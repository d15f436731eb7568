"""The taut length of a chain of rigid rings by another solver: `chain.py WORD QUESTION.json`.

The question holds a valid pose with ring radius 1: `rings` (centre and normal each), `period`,
`twist_rad`, `twist_free`, and the wire diameter. Prints one line of JSON: seconds on a processor, and the pose found
(`slsqp`) or the rings of a pulled piece (`mujoco`).
"""

import json
import sys
import time

import numpy as np

SAMPLES = 48


def turn(angle):
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def frame(normal):
    """Two directions across each normal."""
    least = np.argmin(np.abs(normal), axis=1)
    first = np.cross(normal, np.eye(3)[least])
    first /= np.linalg.norm(first, axis=1, keepdims=True)
    return first, np.cross(normal, first)


def distances(c1, n1, c2, n2):
    """The two least local minima of the distance from circle 1 to circle 2, pair by pair."""
    p, q = frame(n1)
    t = np.arange(SAMPLES) * (2.0 * np.pi / SAMPLES)
    around = np.cos(t)[None, :, None] * p[:, None, :] + np.sin(t)[None, :, None] * q[:, None, :]
    w = c1[:, None, :] + around - c2[:, None, :]
    squared = np.einsum("psk,psk->ps", w, w)
    height = np.einsum("psk,pk->ps", w, n2)
    across = np.sqrt(np.maximum(squared - height**2, 1e-300))
    f = np.maximum(squared + 1.0 - 2.0 * across, 0.0)
    before, after = np.roll(f, 1, axis=1), np.roll(f, -1, axis=1)
    # The vertex of the parabola through three neighbours.
    bend = before - 2.0 * f + after
    vertex = f - (after - before) ** 2 / (8.0 * np.maximum(bend, 1e-12))
    low = np.where((f <= before) & (f < after), np.maximum(vertex, 0.0), np.inf)
    two = np.sqrt(np.partition(low, 1, axis=1)[:, :2])
    return np.where(np.isfinite(two), two, 4.0)


# In one go the optimiser passes rings through each other and runs away; in rounds within a box it
# stays, as a careful user would make it.
ROUNDS = 40
BOX = 0.2


def slsqp(question):
    """Maximise the advance, every pair of rings kept a wire apart, round by round."""
    began = time.process_time()
    pose = {
        "c": np.array([ring["centre"] for ring in question["rings"]]),
        "n": np.array([ring["normal"] for ring in question["rings"]]),
        "period": question["period"],
        "twist": question["twist_rad"],
    }
    steps, message = 0, ""
    for _ in range(ROUNDS):
        before = pose["period"]
        pose, taken, message = one_round(pose, question["wire"], question["twist_free"])
        steps += taken
        if not np.isfinite(pose["period"]) or abs(pose["period"] - before) < 1e-7:
            break
    numbers = [float(x) for ring in zip(pose["c"], pose["n"]) for part in ring for x in part]
    return {
        "seconds": time.process_time() - began,
        "pose": numbers + [float(pose["period"]), float(pose["twist"])],
        "steps": steps,
        "ended": message,
    }


def one_round(pose, wire, free):
    from scipy.optimize import minimize

    centres, normals = pose["c"], pose["n"]
    first, second = frame(normals)
    count = len(centres)
    copies = int(np.ceil((2.5 + np.ptp(centres[:, 2])) / pose["period"]))
    pairs = [(i, j, 0) for j in range(count) for i in range(j)]
    pairs += [(i, j, k) for k in range(1, copies + 1) for i in range(count) for j in range(count)]
    i, j, k = np.array(pairs).T

    def unpack(x):
        c = centres + x[: 3 * count].reshape(count, 3)
        by = x[3 * count : 5 * count].reshape(count, 2)
        axis = by[:, :1] * first + by[:, 1:] * second
        angle = np.maximum(np.linalg.norm(axis, axis=1, keepdims=True), 1e-300)
        n = np.cos(angle) * normals + np.sin(angle) / angle * np.cross(axis, normals)
        return c, n, pose["period"] + x[5 * count], pose["twist"] + (x[5 * count + 1] if free else 0.0)

    def room(x):
        c, n, period, twist = unpack(x)
        cos, sin = np.cos(k * twist), np.sin(k * twist)

        def placed(v):
            return np.stack([cos * v[:, 0] - sin * v[:, 1], sin * v[:, 0] + cos * v[:, 1], v[:, 2]], 1)

        c2 = placed(c[j])
        c2[:, 2] += k * period
        return (distances(c[i], n[i], c2, placed(n[j])) - wire).ravel()

    unknowns = 5 * count + 1 + int(free)
    solved = minimize(
        lambda x: -x[5 * count],
        np.zeros(unknowns),
        jac=lambda x: np.eye(unknowns)[5 * count] * -1.0,
        bounds=[(-BOX, BOX)] * unknowns,
        constraints={"type": "ineq", "fun": room},
        method="SLSQP",
        options={"maxiter": 60, "ftol": 1e-9},
    )
    c, n, period, twist = unpack(solved.x)
    return {"c": c, "n": n, "period": period, "twist": twist}, int(solved.nit), str(solved.message)


# A ring of capsules for a simulator that collides convex bodies only.
CAPSULES = 36
CELLS = 7


def quaternion(normal):
    """The turn that takes z to the normal."""
    w = 1.0 + normal[2]
    if w < 1e-9:
        return [0.0, 1.0, 0.0, 0.0]
    q = np.array([w, -normal[1], normal[0], 0.0])
    return list(q / np.linalg.norm(q))


def mujoco(question):
    """Pull a piece of a few cells by its ends until it rests."""
    import mujoco as mj

    wire = question["wire"]
    # Corners a little outside and middles a little inside the true circle, by equal amounts.
    corner = 2.0 / (1.0 + np.cos(np.pi / CAPSULES))
    at = [2.0 * np.pi * n / CAPSULES for n in range(CAPSULES + 1)]
    dot = [f"{corner * np.cos(a):.9f} {corner * np.sin(a):.9f} 0" for a in at]
    capsules = "".join(
        f'<geom type="capsule" size="{wire / 2:.9f}" fromto="{a} {b}"/>' for a, b in zip(dot, dot[1:])
    )
    bodies = []
    count = len(question["rings"])
    for cell in range(CELLS):
        spin = turn(cell * question["twist_rad"])
        for ring in question["rings"]:
            centre = spin @ np.array(ring["centre"]) + [0.0, 0.0, cell * question["period"]]
            normal = spin @ np.array(ring["normal"])
            held = "" if cell == 0 else "<freejoint/>"
            place = " ".join(f"{x:.9f}" for x in centre)
            facing = " ".join(f"{x:.9f}" for x in quaternion(normal))
            bodies.append(f'<body pos="{place}" quat="{facing}">{held}{capsules}</body>')
    xml = f"""<mujoco><option timestep="{question['timestep']}" gravity="0 0 0" integrator="implicitfast"
      cone="elliptic"><flag energy="disable"/></option>
      <default><geom friction="0 0 0" condim="1" density="1" margin="0"
      solref="0.004 1" solimp="0.98 0.999 0.001"/></default>
      <worldbody>{''.join(bodies)}</worldbody></mujoco>"""
    model = mj.MjModel.from_xml_string(xml)
    model.dof_damping[:] = question["damping"]
    data = mj.MjData(model)
    last = model.nbody - count
    began = time.process_time()
    steps, rested, before = 0, 0, None
    while steps < question["steps_most"] and rested < 5:
        data.xfrc_applied[last:, 2] = question["pull"] / count
        for _ in range(400):
            mj.mj_step(model, data)
        steps += 400
        length = data.xpos[last:, 2].mean()
        rested = rested + 1 if before is not None and abs(length - before) < 1e-5 else 0
        before = length
    seconds = time.process_time() - began
    normals = data.xmat[1:].reshape(-1, 3, 3)[:, :, 2]
    rings = [[*c, *n] for c, n in zip(data.xpos[1:].tolist(), normals.tolist())]
    return {"seconds": seconds, "rings": rings, "steps": steps, "cells": CELLS}


if __name__ == "__main__":
    with open(sys.argv[2], encoding="utf-8") as file:
        asked = json.load(file)
    print(json.dumps({"slsqp": slsqp, "mujoco": mujoco}[sys.argv[1]](asked)))
