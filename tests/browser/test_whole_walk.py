"""A whole job from its rooms through buying, counting and sorting to the PDF, on the phone and at the desk."""

from collections.abc import Callable

import pytest

from tests.browser.visit import Visit
from tests.browser.walking_in_full import WholeWalk
from tests.workshop.running import Running

pytestmark = pytest.mark.browser

# Worked by hand: 34 sheets at 71.50 are 2,431.00, 86 ft of trim at 24.00 for 8 ft are 258.00, 12 hours at 64.00 are
# 768.00. Overhead 10 %: 268.90 and 76.80. Profit 15 % on both: 443.69 and 126.72. Tax 8.25 % on 3,401.59: 280.63.
TOTAL = "4,653.74"


@pytest.mark.parametrize(("width", "height"), [pytest.param(390, 844, id="phone"), pytest.param(1280, 900, id="desk")])
def test_three_rooms_are_carried_from_the_order_to_the_clients_pdf(
    width: int, height: int, new_shop: Running, visit: Callable[..., Visit]
) -> None:
    walk = WholeWalk(visit(new_shop, width, height), new_shop)

    walk.first_start()
    walk.settle_the_shop()
    walk.start_the_job()
    walk.list_sheets_trim_and_screws()
    walk.order_all()
    walk.wait_for_the_sample()
    walk.see_it_is_late()
    walk.take_in_and_count()
    walk.credit_the_damage()
    walk.sort_them(by_key=width > 1000)
    walk.give_as_suggested()
    walk.plan_and_tick()
    walk.log_hours_on_all()
    total = walk.fill_the_estimate()
    printed = walk.text_of_the_pdf()

    assert total == TOTAL
    for words in (TOTAL, "Harbor Builders", "Middle", "Practice room 1"):
        assert words in printed
