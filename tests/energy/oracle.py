"""Brute-force judge of the energy policy: every (way of calls, step, full state) is visited, nothing is joined.

The state is whole: of every source its level, the seconds waited, our hold and the time since it was dissipated;
which panels are in force; guards off; people clear; tests done; untouched.  No slices, no recovery after a fault:
a fault leaves the state at the worse value and the walk goes on.

Vocabulary of `violations`: a set of (step slug, kind, source, guard or test name or None).
Core kinds, which decide `accepts`:
  exposure      a source is at too high an energy for the hands of this step
  caution       no panel of at least the source's signal word is in force where hands are exposed to it
  live-panel    a source named on a live step without DANGER (WARNING where the profile's word is caution)
  reason        hands away or at the controls with a guard off, and no reason said
  runs-on       a source that must be on is not live
  release       released while live, or by an effect while only time releases it
  prove         proved below dissipated
  held-first    a release before the sources of the profile's `needs` are held
  live-first    a restore before the sources of the profile's `needs` are live again
  restore-hold / restore-clear / restore-guards   a restore without our hold, people clear, all guards on
  exit-hold / exit-guard / exit-untested          returned to service with a hold, a guard off, a test not done
  exit-unheld                                     left tagged with a lockable source not held
  exit-touched                                    left as found, but it is not untouched (hold and guard as above)
  unreachable / dead-end / no-way-out             the graph (no-way-out blames every step that cannot end)
  into-shared / back-outside / recursion          a link into a shared stage, a return in none, a stage doing itself
Honesty kinds (path-dependent or plain) are told apart in `honesty.py` and do not touch `accepts`.

Choices made where the policy leaves room (a name in brackets is a switch of `Reading`, so its weight can be counted):
 1. The order of the kinds of effect is the policy's, not the writer's.  An order of restoring is judged before any restore
    of the step, so it takes two steps.
 2. A release asks for at least I, a proof for at least D: doing them again is no fault, a release leaves D, a
    proof leaves Z.  [rework]
 3. A bleeding source at I becomes D by itself once its time is waited.  `releases` on it at I leaves D as well, as
    the policy's letter has it: a discharge tool is quicker.  On a source that needs no release it is idle.  [bleed_by_hand]
 4. Falling to the landing level is judged in every step after `isolates`, so a fed source that was loaded to L with its
    feeds cut falls in the next step.
 5. A source that goes to L by `loads`, a failed proof or a revert brings everything it feeds, at any depth, to L too,
    as `restores` does.  [spread]
 6. `{not-zero x}`: whether x's feeds are cut is judged after all named sources have moved, feeds first.  A source with neither
    feed nor isolate goes to its landing level, an isolating source without feed to L.
 7. Of a step whose proof failed the other sources are all it isolates, releases, proves, restores or loads; they go back to the lower
    of before and after.  Holds stay as the step left them.  [others_acted; else only those proved]
 8. Cautions of sources that are brought back to L along with a restored feed die too.  [store_cautions_die]
 9. A panel in a step stays in force to the end of its stage (or its source's restore).  Panels of a shared stage are read
    at each call and end with it; those of the caller hold inside and after, unless their source was restored
    meanwhile.  [step_panel_stays] [block_panels_stay]
10. Panels of a stage are read when the stage is entered, not again by a jump within it; panels above the first stage
    are read once and never come back after a restore.
11. A boundary is a change of the stage of the main line: a link out of a shared stage into the stage of the caller is
    none.
12. At a boundary a re-accumulating source, with a time or not, also loses the time waited so far at I.
13. The re-accumulation clock starts when the source leaves its landing level upwards, adds up over waits, is not set back
    by proving or releasing again; what one wait leaves after the bleeding counts; a range counts its *upper* end here.
    [excess] [upper_end]
14. `{not-ok}`: the tests named in that step count as not done.  [not_ok_clears]
15. The check on the outgoing state (steps that load or restore) is of levels only; panels are judged as read at the start
    of the step, else no live step could restore its own source.
16. Acted on, for the probe row, is isolates, releases, proves (not loads, restores, runs-on); for clear-of it is any
    effect that names the source.  [probe_narrow]
17. A release or a proof of outside sources counts as controls, each effect by itself: locking, waiting or clearing in the
    same step keeps it so, an inside source or a guard in it does not.  A step written `probe` of that sort counts as
    controls too, so with a guard off it needs a reason.
18. DANGER for named sources of a live step is asked for only where they are not cleared.
19. Guards are all on at entry, people not clear.  Restores judge the people-clear bit before this step's `all-clear`.
20. Every answer may be taken in every state.  A step left by a fault is still left.
21. A tagged exit asks for holds only, not for levels; a service exit asks for a test even if nothing was exposed.
22. The shared stages of the profile that are not asked for are no unreachable steps; those of the document are.
23. An exit step needs no reason with a guard off whatever its effects; of the others only waits and all-clear alone.

Accepted by the letter of the policy, though a reviewer may not like it:
 a. one step that proves (or waits, or releases) and then isolates: choice 1;
 b. one step that tests and then opens a guard counts as tested after the exposure: choice 1;
 c. left as found after a release or a loading done from outside: neither ends untouched;
 d. service after a test that was followed by a release from outside, or by locking and restoring, without exposure.
"""

from __future__ import annotations

from .honesty import plain
from .plan import compile_spec
from .reading import SAFEST, Outcome, Reading, Violation
from .spec import Spec
from .walk import Walk


def violations(spec: Spec, reading: Reading = SAFEST) -> frozenset[Violation]:
    """Every core violation on any way through."""
    return judge(spec, reading).core


def accepts(spec: Spec, reading: Reading = SAFEST) -> bool:
    """True when no way through breaks the core policy."""
    return not violations(spec, reading)


def judge(spec: Spec, reading: Reading = SAFEST) -> Outcome:
    """Walk everything once: core and honesty findings, and how many states there were."""
    plan = compile_spec(spec)
    walk = Walk(plan, reading)
    walk.run()
    return Outcome(frozenset(walk.core), frozenset(walk.honesty | plain(plan)), walk.states)
