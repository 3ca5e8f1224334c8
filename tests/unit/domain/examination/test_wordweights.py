"""What words say for steps: the sum is a linear machine's, and catalogue and table may differ."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sklearn.feature_extraction.text import TfidfVectorizer
from sklearn.svm import LinearSVC

from casebank.core.fixtures import WORD_WEIGHTS, load_catalogue, load_word_table
from casebank.domain.examination.wordweights import UNKNOWN, WordWeights, table_of
from tests.evaluation import learn_words
from tests.evaluation.learn_words import Text, learned

TEXTS = [
    Text(("listen", "heart"), "heart", 1.0),
    Text(("heart", "sound"), "heart", 1.0),
    Text(("feel", "pulse", "wrist"), "pulse", 2.0),
    Text(("pulse", "rate"), "pulse", 1.0),
    Text(("look", "nail"), "nails", 1.0),
    Text(("nail", "club", "look"), "nails", 1.0),
]
SLUGS = ["heart", "nails", "pulse"]
SAID = st.lists(st.sampled_from(["listen", "heart", "pulse", "nail", "look", "xyz"]), max_size=6)


@pytest.fixture(scope="module")
def exact():
    """The table that these texts teach, with nothing left out or rounded away."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(learn_words, "LEAST", 0.0)
        patch.setattr(learn_words, "LEAST_SEEN", 1)
        patch.setattr(learn_words, "SCALE", 1 / 64)
        yield learned(TEXTS)


@given(said=SAID)
def test_the_sum_is_that_of_scikit_learns_machine(exact, said):
    counter = TfidfVectorizer(analyzer=list, sublinear_tf=True)
    seen = counter.fit_transform([one.keys for one in TEXTS])
    model = LinearSVC(C=learn_words.STRENGTH, max_iter=300, random_state=learn_words.SEED)
    model.fit(seen, [one.step for one in TEXTS], sample_weight=[one.weight for one in TEXTS])
    theirs = model.decision_function(counter.transform([said]))[0]
    ours = WordWeights(exact, SLUGS).of(said)
    assert np.allclose(ours, theirs, atol=1 / 64 * (len(set(said)) + 1) / 2 + 1e-6)


def test_a_text_speaks_for_the_step_that_its_words_taught(exact):
    found = WordWeights(exact, SLUGS)
    assert SLUGS[int(found.of(["look", "nail"]).argmax())] == "nails"
    assert found.first(["look", "nail"], 1) == (1,)


def test_a_small_catalogue_has_no_more_steps_to_give(exact):
    assert WordWeights(exact, SLUGS).first(["pulse"], 5) == (0, 1, 2)
    assert WordWeights(exact, SLUGS[:1]).first(["pulse"], 3) == (0,)


def test_a_step_that_the_table_does_not_know_is_as_one_that_no_word_points_to(exact):
    found = WordWeights(exact, ["new", "pulse"]).of(["pulse"])
    assert found[0] == UNKNOWN
    assert found[1] == WordWeights(exact, SLUGS).of(["pulse"])[2]


def test_the_order_of_words_says_nothing(exact):
    found = WordWeights(exact, SLUGS)
    assert np.allclose(found.of(["heart", "listen"]), found.of(["listen", "heart"]))


def test_a_sum_cannot_be_changed_by_who_reads_it(exact):
    with pytest.raises(ValueError, match="read-only"):
        WordWeights(exact, SLUGS).of(["heart"])[0] = 1.0


def test_another_file_is_refused():
    with pytest.raises(ValueError, match="pickled"):
        table_of(b"no table")


def test_the_shipped_table_knows_every_step_and_fits_itself():
    table = load_word_table()
    assert set(table.steps) == set(load_catalogue().steps)
    assert len(table.rarity) == len(table.words) == len(table.starts) - 1
    assert table.starts[-1] == len(table.numbers) == len(table.weights)
    assert table.numbers.max() < len(table.steps) == len(table.bias)
    assert WORD_WEIGHTS.stat().st_size < 600_000
