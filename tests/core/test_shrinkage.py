"""Means drawn toward the common one, held against printed tables and simulated offices."""

import pytest

from tests import made
from tests.simulated_offices import BETWEEN, Office, root_mean, simulate
from twodrum.core.robust import robust_scores
from twodrum.core.shrinkage import pooled_deviation, shrunk_means

# Hits of 18 players in their first 45 at bats of 1970, and the estimates printed beside them:
# B. Efron, Large-Scale Inference, 2010, table 1.1 (from memory).
HITS = (18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7)
PRINTED = (
    *(0.294, 0.289, 0.285, 0.280, 0.275, 0.275, 0.270, 0.266, 0.261, 0.261),
    *(0.256, 0.256, 0.256, 0.256, 0.256, 0.252, 0.247, 0.242),
)


def test_batting_averages__efron_2010_table_1_1() -> None:
    averages = [hits / 45 for hits in HITS]
    grand = sum(averages) / len(averages)
    found = shrunk_means(averages, [(grand * (1 - grand) / 45) ** 0.5] * len(averages))
    assert [round(value, 3) for value in found.values] == list(PRINTED)
    assert found.common == pytest.approx(0.265, abs=0.0005)


def test_groups_that_are_alike_are_all_at_the_common_mean() -> None:
    found = shrunk_means([0.2, 0.201, 0.199, 0.2], [0.02] * 4)
    assert found.between == 0
    assert all(abs(value - 0.2) < 0.0007 for value in found.values)


def test_a_group_of_which_much_is_known_keeps_its_own_mean() -> None:
    found = shrunk_means([0.1, 0.2, 0.3, 0.4, 0.5], [1e-6, 0.05, 0.05, 0.05, 0.05])
    assert found.values[0] == pytest.approx(0.1, abs=1e-9)
    assert found.weights[0] == pytest.approx(1, abs=1e-6)


def test_one_group_is_its_own_mean() -> None:
    found = shrunk_means([0.2], [0.01])
    assert found.values == [0.2]
    assert found.uncertainties == [0.01]


def test_pooled_deviation__hand_worked() -> None:
    # Squares of 1 and 1, and of 2, 0 and 2 hundredths, over 1 and 2 degrees of freedom.
    assert pooled_deviation([[0.2, 0.22], [0.3, 0.32, 0.34]]) == pytest.approx(
        ((0.0001 * 2 + 0.0004 * 2) / 3) ** 0.5
    )


def test_robust_scores__nist_handbook_rule_by_hand() -> None:
    """Median 22, median absolute deviation 1: 0.6745 for each 1."""
    found = robust_scores([20.0, 21.0, 22.0, 23.0, 30.0, 22.0, 23.0])
    assert found[4] == pytest.approx(0.6745 * 8)
    assert found[2] == 0


def two_hundred() -> dict[float, list[Office]]:
    return simulate(200)


@pytest.mark.parametrize("between", BETWEEN)
def test_drawn_means_are_nearer_to_the_truth_than_crew_or_office_means(between: float) -> None:
    """`python -m tests.simulated_offices` runs 1,000 of each; here 200."""
    offices = made.found(two_hundred)[between]
    drawn = root_mean(offices, "drawn")
    assert drawn < root_mean(offices, "crew mean")
    # Where crews hardly differ nothing beats taking them for one.
    assert between < 0.01 or drawn < root_mean(offices, "office mean")
    held, crews = sum(o.held for o in offices), sum(o.crews for o in offices)
    assert held / crews >= 0.9
