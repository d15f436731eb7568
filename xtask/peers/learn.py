"""Another way to learn from the trials of a question, timed and scored: `learn.py WORD QUESTION.json`.

Prints one line of JSON: seconds, and of covered_80, rmse, brier, log_score what this way can give.
"""

import json
import sys
import time

import numpy as np
from scipy.special import betaln, expit, gammaln

NODES, WEIGHTS = np.polynomial.hermite_e.hermegauss(9)
WEIGHTS = WEIGHTS / WEIGHTS.sum()
GOOD = 0.9
DRAWS = 400
# What a worn blade, a metal or a person may weigh in the plain regressions, in log odds.
RIDGE = 2.5


def ln_beta_binomial(good, rings, a, b):
    choose = gammaln(rings + 1) - gammaln(good + 1) - gammaln(rings - good + 1)
    return choose + betaln(good + a, rings - good + b) - betaln(a, b)


def weight_of(once, twice):
    """a + b of the beta law with these two moments."""
    return np.clip((once - twice) / np.maximum(twice - once**2, 1e-12), 1e-6, 1e9)


def scores(question, share, ln_chance):
    """`share`: draws by cells asked about; `ln_chance`: draws by coils held out."""
    truth = np.array(question["truth"])
    chart = share[:, : len(truth)]
    low, high = np.quantile(chart, [0.1, 0.9], axis=0)
    mean_chance = np.logaddexp.reduce(ln_chance, axis=0) - np.log(len(ln_chance))
    return {
        "covered_80": float(np.mean((low <= truth) & (truth <= high))),
        "rmse": float(np.sqrt(np.mean((chart.mean(axis=0) - truth) ** 2))),
        "brier": float(np.mean(((chart >= GOOD).mean(axis=0) - (truth >= GOOD)) ** 2)),
        "log_score": float(-mean_chance.mean()),
    }


def held_out(question):
    return np.array(question["held_out_good"]), np.array(question["held_out_rings"])


def standardised(question):
    rows, asked = np.array(question["plain_rows"]), np.array(question["plain_asked"])
    mean, sd = rows.mean(axis=0), rows.std(axis=0)
    kept = sd > 1e-9
    return tuple((x[:, kept] - mean[kept]) / sd[kept] for x in (rows, asked))


def one_before(x):
    return np.hstack([np.ones((len(x), 1)), x])


def glm(question):
    """Binomial regression with Pearson's scale: statsmodels. A small ridge keeps it from running away
    where every coil of a blade was good."""
    import statsmodels.api as sm

    rows, asked = map(one_before, standardised(question))
    good, rings = np.array(question["good"]), np.array(question["rings"])
    began = time.perf_counter()
    model = sm.GLM(np.column_stack([good, rings - good]), rows, family=sm.families.Binomial())
    # Penalty per coil, as this library counts it.
    ridge = np.r_[0.0, np.full(rows.shape[1] - 1, RIDGE**-2)] / len(good)
    weights = model.fit_regularized(alpha=ridge, L1_wt=0.0, maxiter=500).params
    p = expit(rows @ weights)
    variance = np.maximum(rings * p * (1 - p), 1e-9)
    scale = max(1.0, ((good - rings * p) ** 2 / variance).sum() / max(1, len(good) - rows.shape[1]))
    information = rows.T @ (rows * variance[:, None]) / scale + np.diag(
        np.r_[1e-6, np.full(rows.shape[1] - 1, RIDGE**-2)]
    )
    share = expit(gaussian_draws(weights, information) @ asked.T)
    seconds = time.perf_counter() - began
    # The scale as a likeness of rings of one coil: 1 + (m - 1) rho = scale.
    rho = np.clip((scale - 1) / max(1.0, rings.mean() - 1), 1e-6, 0.9)
    return seconds, scores(question, share, ln_chance_with(question, share, 1 / rho - 1))


def beta(question):
    """Beta-binomial regression, its likelihood with a ridge maximised by scipy's BFGS."""
    from scipy.optimize import minimize

    rows, asked = map(one_before, standardised(question))
    good, rings = np.array(question["good"]), np.array(question["rings"])

    def value(at):
        p = np.clip(expit(rows @ at[:-1]), 1e-9, 1 - 1e-9)
        weight = np.exp(np.clip(at[-1], -5, 12))
        ln_likelihood = ln_beta_binomial(good, rings, p * weight, (1 - p) * weight).sum()
        return -ln_likelihood + (at[1:-1] ** 2).sum() / (2 * RIDGE**2) + (at[-1] - 3) ** 2 / 8

    began = time.perf_counter()
    start = np.zeros(rows.shape[1] + 1)
    start[0], start[-1] = 1.0, 3.0
    found = minimize(value, start, method="BFGS", options={"maxiter": 300}).x
    drawn = gaussian_draws(found, information_at(value, found))
    share = expit(drawn[:, :-1] @ asked.T)
    seconds = time.perf_counter() - began
    weight = np.exp(np.clip(drawn[:, -1:], -5, 12))
    return seconds, scores(question, share, ln_chance_with(question, share, weight))


def information_at(value, at, step=1e-3):
    """Second derivatives by differences, none flatter than a tenth of the ridge."""
    size = len(at)
    steps = step * np.eye(size)
    bends = np.empty((size, size))
    for i in range(size):
        for j in range(i + 1):
            corners = [value(at + u * steps[i] + v * steps[j]) for u, v in ((1, 1), (1, -1), (-1, 1), (-1, -1))]
            bends[i, j] = bends[j, i] = (corners[0] - corners[1] - corners[2] + corners[3]) / (4 * step**2)
    values, vectors = np.linalg.eigh(bends)
    return (vectors * np.maximum(values, 0.1 * RIDGE**-2)) @ vectors.T


def gaussian_draws(mean, information):
    factor = np.linalg.cholesky(information + 1e-9 * np.eye(len(mean)))
    bells = np.random.default_rng(1).standard_normal((len(mean), DRAWS))
    return mean + np.linalg.solve(factor.T, bells).T


def ln_chance_with(question, share, weight):
    good, rings = held_out(question)
    p = np.clip(share[:, -len(good) :], 1e-9, 1 - 1e-9)
    return ln_beta_binomial(good, rings, p * weight, (1 - p) * weight)


def gp(question):
    """Whether a coil gave 90 %: scikit-learn's Gaussian process classifier, its own search."""
    from sklearn.gaussian_process import GaussianProcessClassifier
    from sklearn.gaussian_process.kernels import RBF, ConstantKernel

    rows, asked = standardised(question)
    label = np.array(question["good"]) >= GOOD * np.array(question["rings"])
    truth = np.array(question["truth"])
    began = time.perf_counter()
    if label.all() or not label.any():
        chance = np.full(len(truth), label.mean())
    else:
        kernel = ConstantKernel(4.0) * RBF(3.0)
        model = GaussianProcessClassifier(kernel=kernel, random_state=1).fit(rows, label)
        chance = model.predict_proba(asked[: len(truth)])[:, 1]
    seconds = time.perf_counter() - began
    return seconds, {"brier": float(np.mean((chance - (truth >= GOOD)) ** 2))}


def posterior(question, chains, warm, kept):
    """Draws of our own model, columns and priors, by numpyro's NUTS: of each gate the log odds of every
    cell asked about, and the coils' scatter."""
    import jax

    jax.config.update("jax_enable_x64", True)
    import jax.numpy as jnp
    import numpyro
    import numpyro.distributions as dist
    from numpyro.infer import MCMC, NUTS

    cells, cell_of_row = np.unique(question["cell_of_row"], return_inverse=True)
    place = {cell: i for i, cell in enumerate(cells)}
    tried = np.array([place.get(cell, -1) if cell is not None else -1 for cell in question["cell_of_asked"]])

    def model(columns, mean, sd, of_departure, passed, came, written_off):
        sigma = jnp.exp(numpyro.sample("ln_sigma", dist.Normal(np.log(0.5), 0.5)))
        tau = jnp.exp(numpyro.sample("ln_tau", dist.Normal(np.log(0.5), 0.6)))
        bells = numpyro.sample("bells", dist.Normal(0, 1).expand([len(mean)]).to_event(1))
        weights = numpyro.deterministic("weights", mean + sd * jnp.where(of_departure, tau, 1.0) * bells)
        quirk_bells = numpyro.sample("quirk_bells", dist.Normal(0, 1).expand([len(cells)]).to_event(1))
        quirks = numpyro.deterministic("quirks", 0.6 * tau * quirk_bells)
        own = numpyro.sample("own", dist.Normal(0, 1).expand([len(came)]).to_event(1))
        log_odds = columns @ weights + quirks[cell_of_row] + sigma * own
        ordinary = dist.Binomial(came, logits=log_odds).log_prob(passed)
        if written_off > 0:
            ordinary = jnp.logaddexp(np.log1p(-written_off) + ordinary, np.log(written_off) - jnp.log(came + 1.0))
        numpyro.factor("coils", jnp.where(came > 0, ordinary, 0.0).sum())

    source = np.random.default_rng(1)
    gates = []
    for number, gate in enumerate(question["gates"]):
        arrays = {name: np.array(gate[name]) for name in ("rows", "mean", "sd", "of_departure", "passed", "came")}
        arrays["columns"] = arrays.pop("rows")
        sampler = MCMC(
            NUTS(model, target_accept_prob=0.9),
            num_warmup=warm,
            num_samples=kept,
            num_chains=chains,
            chain_method="sequential",
            progress_bar=False,
        )
        sampler.run(jax.random.PRNGKey(number), **arrays, written_off=gate["written_off"])
        drawn = {name: np.asarray(values) for name, values in sampler.get_samples().items()}
        sigma, tau = np.exp(drawn["ln_sigma"])[:, None], np.exp(drawn["ln_tau"])[:, None]
        log_odds = drawn["weights"] @ np.array(gate["asked"]).T
        fresh = 0.6 * tau * source.standard_normal(log_odds.shape)
        log_odds += np.where(tried >= 0, drawn["quirks"][:, np.maximum(tried, 0)], fresh)
        gates.append((log_odds, sigma))
    return gates


def moments(log_odds, sigma):
    """Chance that a ring passes, and that two of one coil do."""
    passing = [expit(log_odds + sigma * node) for node in NODES]
    return sum(w * p for w, p in zip(WEIGHTS, passing)), sum(w * p**2 for w, p in zip(WEIGHTS, passing))


def long_run(gates, written_off):
    (kept, _), (severed, _), (round_, _) = gates
    return ((1 - written_off) * kept + written_off / 2) * severed * round_


def nuts(question):
    """Two chains, 300 steps to warm up, 300 kept."""
    began = time.perf_counter()
    gates = [moments(*gate) for gate in posterior(question, chains=2, warm=300, kept=300)]
    written_off = question["gates"][0]["written_off"]
    share = long_run(gates, written_off)
    seconds = time.perf_counter() - began
    good, rings = held_out(question)
    spoiled = [(0.5, 1 / 3), *gates[1:]]
    parts = []
    for these, part in ((gates, 1 - written_off), (spoiled, written_off)):
        once, twice = (np.prod([np.broadcast_to(gate[i], share.shape) for gate in these], axis=0) for i in (0, 1))
        once, twice = once[:, -len(good) :], twice[:, -len(good) :]
        weight = weight_of(once, twice)
        parts.append(np.log(part) + ln_beta_binomial(good, rings, once * weight, (1 - once) * weight))
    return seconds, scores(question, share, np.logaddexp(*parts))


def main(word, path):
    with open(path, encoding="utf-8") as file:
        question = json.load(file)
    seconds, found = {"glm": glm, "beta": beta, "gp": gp, "nuts": nuts}[word](question)
    print(json.dumps({"seconds": seconds, **found}))


if __name__ == "__main__":
    main(*sys.argv[1:])
