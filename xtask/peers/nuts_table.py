"""Beliefs about cells by numpyro's NUTS, as a table: `nuts_table.py DOUBT NAME=QUESTION.json ...`.

One line per name and cell asked about: mean and standard deviation of the log odds of each gate; then,
with the log odds spread by DOUBT about their mean, those of the long-run good share and the chance that
it is at least 90 %.
"""

import json
import sys

import numpy as np

import learn

CHAINS, WARM, KEPT = 4, 1000, 1500
HEADING = "trials,cell,kept_mean,kept_sd,severed_mean,severed_sd,round_mean,round_sd,q_mean,q_sd,p_q_90"


def main(doubt, *questions):
    print(HEADING)
    for named in questions:
        name, path = named.split("=", 1)
        with open(path, encoding="utf-8") as file:
            question = json.load(file)
        gates = learn.posterior(question, CHAINS, WARM, KEPT)
        spread = []
        for log_odds, sigma in gates:
            middle = log_odds.mean(axis=0)
            spread.append(learn.moments(middle + float(doubt) * (log_odds - middle), sigma))
        share = learn.long_run(spread, question["gates"][0]["written_off"])
        for cell in range(share.shape[1]):
            numbers = []
            for log_odds, _ in gates:
                numbers += [log_odds[:, cell].mean(), log_odds[:, cell].std(ddof=1)]
            of_share = share[:, cell]
            numbers += [of_share.mean(), of_share.std(ddof=1), np.mean(of_share >= learn.GOOD)]
            print(",".join([name, str(cell), *(f"{number:.4f}" for number in numbers)]), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
