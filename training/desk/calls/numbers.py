"""The numbers that decide who is called: common practice, no source for any of them."""

QUIET_DAYS = 30  # with nothing done, after which somebody has stopped
GIVEN_UP_DAYS = 365  # after which a call about it comes too late
TOLD_DAYS = 60  # since a vessel was told, and nothing since
PLAN_DAYS = 30  # with a certified crew and no net planned
CHECK_DAYS = 21  # since a vessel began without a sweep, and no rig checked
BACK_DAYS = 120  # within which going back is worth talking about
MISSES = 3  # of one rule by one person
ACTIVE_DAYS = 60  # within which somebody still trains
EXPIRY_DAYS = 60  # before a certificate runs out
RETRY_DAYS = 60  # after an exam not passed, within which to speak of another

SILENCE_WEEKS = 4  # after a call, for the same reason
CARDS_A_PAGE = 12
AGAIN_WITHIN = 365  # days from today: a later day is a slip
UNDO_MINUTES = 15  # for which the list offers to undo one's last call
