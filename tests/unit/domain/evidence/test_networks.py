"""The posterior against an independent engine for Bayesian networks."""

import warnings

import numpy as np
import pytest

from casebank.domain.evidence import posterior

with warnings.catch_warnings():
    # Its extension types warn while they load; made an error there, the warning kills Python.
    warnings.simplefilter("ignore")
    import pyagrum as gum


def _chest_clinic():
    network = gum.fastBN("A->T->E<-L<-S->B->D<-E->X", 2)
    tables = {"A": [0.99, 0.01], "S": [0.5, 0.5]}
    given_one = {
        "T": ("A", 0.01, 0.05),
        "L": ("S", 0.01, 0.10),
        "B": ("S", 0.30, 0.60),
        "X": ("E", 0.05, 0.98),
    }
    for name, values in tables.items():
        network.cpt(name).fillWith(values)
    for name, (parent, absent, present) in given_one.items():
        network.cpt(name)[{parent: 0}] = [1 - absent, absent]
        network.cpt(name)[{parent: 1}] = [1 - present, present]
    for t in (0, 1):
        for lung in (0, 1):
            either = float(t or lung)
            network.cpt("E")[{"T": t, "L": lung}] = [1 - either, either]
    for (either, b), p in {(0, 0): 0.1, (0, 1): 0.8, (1, 0): 0.7, (1, 1): 0.9}.items():
        network.cpt("D")[{"E": either, "B": b}] = [1 - p, p]
    return network


@pytest.mark.parametrize(
    ("evidence", "printed"),
    [
        ({}, (0.0104, 0.0550, 0.4500)),
        ({"D": 1}, (0.0188, 0.1028, 0.8340)),
        ({"D": 1, "A": 1, "X": 0}, (0.0022, 0.0026, 0.8628)),
    ],
)
def test_chest_clinic_marginals_by_our_posterior_by_the_engine_and_as_tabled(evidence, printed):
    # Lauritzen & Spiegelhalter, J R Stat Soc B 1988. Given the eight combinations of
    # tuberculosis, cancer and bronchitis, dyspnoea, X-ray and the journey are independent.
    smoking = {0: 0.5, 1: 0.5}
    combos = [(t, c, b) for t in (0, 1) for c in (0, 1) for b in (0, 1)]
    tuberculosis = 0.99 * 0.01 + 0.01 * 0.05
    prior = [
        (tuberculosis if t else 1 - tuberculosis)
        * sum(
            weight
            * ((0.1, 0.01)[not s] if c else 1 - (0.1, 0.01)[not s])
            * ((0.6, 0.3)[not s] if b else 1 - (0.6, 0.3)[not s])
            for s, weight in smoking.items()
        )
        for t, c, b in combos
    ]
    dyspnoea = [
        {(0, 0): 0.1, (0, 1): 0.8, (1, 0): 0.7, (1, 1): 0.9}[(t | c, b)] for t, c, b in combos
    ]
    clear = [0.02 if t | c else 0.95 for t, c, _ in combos]
    travelled = [0.01 * (0.05 / 0.0104 if t else 0.95 / 0.9896) for t, _, _ in combos]
    findings = {"D": dyspnoea, "X": clear, "A": travelled}
    rows = [findings[name] for name in evidence]
    ours = posterior(prior, rows) @ np.asarray(combos, dtype=float)
    engine = gum.LazyPropagation(_chest_clinic())
    engine.setEvidence(evidence)
    theirs = [engine.posterior(name)[1] for name in ("T", "L", "B")]
    assert ours == pytest.approx(theirs, abs=1e-12)
    assert ours == pytest.approx(printed, abs=5e-5)


@pytest.mark.parametrize("seed", range(8))
def test_posterior_equals_the_network_engine_on_random_networks(seed):
    rng = np.random.default_rng(seed)
    hypotheses, findings, outcomes = int(rng.integers(2, 8)), int(rng.integers(1, 7)), 3
    network = gum.BayesNet()
    network.add(gum.LabelizedVariable("D", "", hypotheses))
    network.cpt("D").fillWith(rng.dirichlet(np.ones(hypotheses)).tolist())
    tables = rng.dirichlet(np.ones(outcomes), size=(findings, hypotheses))
    seen = rng.integers(0, outcomes, size=findings)
    for f in range(findings):
        network.add(gum.LabelizedVariable(f"F{f}", "", outcomes))
        network.addArc("D", f"F{f}")
        for h in range(hypotheses):
            network.cpt(f"F{f}")[{"D": h}] = tables[f, h].tolist()
    engine = gum.LazyPropagation(network)
    engine.setEvidence({f"F{f}": int(seen[f]) for f in range(findings)})
    rows = [tables[f, :, seen[f]] for f in range(findings)]
    ours = posterior(network.cpt("D").toarray(), rows)
    assert ours == pytest.approx(engine.posterior("D").toarray(), abs=1e-9)
