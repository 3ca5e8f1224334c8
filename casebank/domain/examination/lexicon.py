"""The small words of the request line: what carries no meaning, what denies, what names a method.

Owns word lists only. Abbreviations and set phrases are ``abbreviations``'s.
"""

from __future__ import annotations

from casebank.domain.examination.model import Method
from casebank.domain.examination.stems import key_of, keys_in

EMPTY = keys_in(
    """
    a an the this that these those some any my your his her hers him she he it its they them their
    i id ill im ive we us our you me myself himself herself themselves patient patients
    person man woman lady gentleman boy girl child someone somebody colleague
    is are was were be been being am do does did doing done have has had having would will shall
    should could can may might must like want wants need needs wish let lets please kindly
    pls plz cheers wed weve youd
    thanks thank hello hi ok okay um er well just now then so first firstly secondly next finally
    also too very quite really little bit slightly somewhat possible possibly perhaps maybe
    to of for at on onto upon with by from over as if whether when while during which what
    how where who whose there here about around using use via per and or plus & than
    go going gonna try start begin proceed move onwards carefully properly good correct correctly
    position place part area region point aspect technique manner way
    check assess evaluate perform carry conduct complete see find detect
    determine note notice identify establish confirm search seek demonstrate elicit study
    evidence presence present appropriate usual routine quick quickly
    brief briefly full fully proper still get getting make making put keep keeping ensure
    allow place placing placed help formally thing things
    specifically particular particularly especially sure until through throughout steady steadily
    whats hows wheres theres thats whos whens hes shes ive lets actually basically obviously
    certainly love dear darling sweetheart mate pal folks guys
    definitely today currently lately ever yet already able overall sir madam mr mrs miss ms dr
    """
)
"""Words that neither help nor harm a reading, and are never reported as not understood."""

TELLING = keys_in("full completely complete point points little first a with using onto")
"""Empty words that tell something beside a single word: *a minute*, *little finger*."""

NAMING = keys_in("place person man woman child help part point position move full little go way")
"""Empty words that make a name of one other word more than that word: *time place and person*."""

KEPT = keys_in(
    "in out up down forward against without not after off no stop"
    " test level examine examination sign signs pt"
)
"""Little words that matter inside a set phrase, but may be passed over between its words."""

_VERBS: dict[Method, str] = {
    Method.AUSCULTATE: "listen auscultate auscultation auscult hear stethoscope",
    Method.PALPATE: "feel palpate palpation touch press push squeeze palp",
    Method.PERCUSS: "percuss percussion tap",
    Method.INSPECT: "look inspect inspection observe watch view glance visualise eyeball",
    Method.MEASURE: "measure count record take measurement",
    Method.ASK: "ask enquire inquire question",
    Method.INVESTIGATION: "order request arrange send book",
    Method.TREAT: "give administer prescribe commence inject infuse",
}
VERBS: dict[str, Method] = {key: m for m, words in _VERBS.items() for key in keys_in(words)}
"""Key of a verb to the method it names."""

SPECIFIC_VERBS = keys_in("tap touch press squeeze count stethoscope hear glance")
"""Verbs that tell one act from another and so belong to a name: *finger tapping*."""

CANONICAL_VERBS: dict[str, str] = {
    key: key_of(words.split()[0])
    for words in (
        "auscultate listen auscultation auscult",
        "palpate feel palpation palp",
        "inspect look inspection watch view glance visualise eyeball",
        "percuss percussion",
        "ask enquire inquire question",
        "measure measurement record",
        "give administer prescribe",
        "press push",
    )
    for key in keys_in(words)
}
"""Key of a verb to the key of its synonym that stands for all of them."""

CUES: dict[str, Method] = {
    key_of(word): method
    for word, method in (
        ("palpable", Method.PALPATE),
        ("audible", Method.AUSCULTATE),
        ("visible", Method.INSPECT),
        ("history", Method.ASK),
        ("symptoms", Method.ASK),
        ("hx", Method.ASK),
    )
}
"""Words that tell the method without being its verb; unlike verbs they count in a name."""

STRONG_METHODS = frozenset(
    {
        Method.AUSCULTATE,
        Method.PALPATE,
        Method.PERCUSS,
        Method.INSPECT,
        Method.ASK,
        Method.TREAT,
    }
)
"""Methods whose verbs speak against a step of another method; one can *take* almost anything."""

COMPATIBLE: dict[Method, frozenset[Method]] = {
    Method.AUSCULTATE: frozenset({Method.AUSCULTATE, Method.MANOEUVRE, Method.MEASURE}),
    Method.PALPATE: frozenset(
        {Method.PALPATE, Method.MANOEUVRE, Method.MEASURE, Method.BEDSIDE_TEST}
    ),
    Method.PERCUSS: frozenset({Method.PERCUSS, Method.MANOEUVRE}),
    Method.INSPECT: frozenset(
        {Method.INSPECT, Method.MEASURE, Method.BEDSIDE_TEST, Method.MANOEUVRE}
    ),
    Method.MEASURE: frozenset(
        {
            Method.MEASURE,
            Method.PALPATE,
            Method.INSPECT,
            Method.BEDSIDE_TEST,
            Method.MANOEUVRE,
            Method.INVESTIGATION,
        }
    ),
    Method.ASK: frozenset({Method.ASK, Method.MANOEUVRE, Method.BEDSIDE_TEST}),
    Method.INVESTIGATION: frozenset({Method.INVESTIGATION, Method.BEDSIDE_TEST, Method.MEASURE}),
    Method.TREAT: frozenset({Method.TREAT}),
}
"""What a verb's method may stand for: one feels, or takes, a pulse; one never gives an x-ray."""

NEGATORS = keys_in("not without avoid avoiding skip omit never except cannot")
STATED = keys_in("hes shes theyre hed shed")
"""Words that begin a statement about the patient, not a request."""
POSITIONS = {"sit-up": "sitting", "lay-flat": "supine"}
"""Steps that put the patient in a posture, to the posture."""
RESTARTS, WILLING = keys_in("id ill lets please"), keys_in("would will want should prefer shall")
"""Where a speaker begins anew after a denial, the second after *I*."""
FOLLOW_MARKERS = keys_in(
    "again repeat same instead other opposite another more once retry redo switch swap"
    " recount recheck retest retake remeasure relisten likewise ditto"
)
POINTERS = keys_in("it that there this one too still keep compare vs versus next side")
"""Words that point back to what was done or found, less plainly."""
GOING_ON = keys_in("now next what how just only so also ok okay further higher lower deeper more")
"""First words of a text that goes on from the one before."""
STOPPED = keys_in(
    "hold stop withhold discontinue suspend avoid omit cease cross off without allergic reverse"
)
"""Words with which a drug is not given."""
OTHER_SIDE, SWAPPED = keys_in("other opposite contralateral fellow"), keys_in("swap switch")
SIDE_WORDS = {"left": "left", "l": "left", "lhs": "left", "lt": "left",
              "right": "right", "r": "right", "rhs": "right", "rt": "right"}  # fmt: skip
CORRECTIONS = keys_in("no sorry correction rather oops scratch wait")
"""Words with which a speaker takes back what was just said: *the left, no, the right*."""
IDIOMS_AFTER_SIDE = keys_in(
    "sternal parasternal lateral decubitus ventricle ventricular atrium atrial bundle heart axis"
)
"""Words after which left or right belongs to a fixed place and is no side of the technique."""

ORDERED = keys_in(
    "start started starting given commenced push pushed get chew run hang sited inserted placed"
    " issued supplied delivered administered hit load loaded insert connect"
)
"""Words that tell of a drug or device that it is given, without being the verb for it."""
DOSE_UNITS = keys_in(
    "mg mcg ug microgram micrograms milligram milligrams g gram grams ml mls millilitres unit"
    " units iu mmol mol millimoles litre litres l percent kg puff puffs hour hours hourly minute"
)
DOSE_WORDS = keys_in(
    "iv im sc po pr sl io subcut subcutaneous subcutaneously intramuscular intramuscularly oral"
    " orally sublingual sublingually nebulised nebulized neb inhaled buccal stat bolus infusion"
    " dose doses loading therapeutic treatment prophylactic slow high low flow rate driven"
    " tablet once twice daily od bd tds qds slowly mask via push"
)
"""Words for the route and rate of a drug."""

PROCEDURES = keys_in(
    "catheter catheters catheterise catheterised catheterisation cardiovert cardioverted"
    " cardioversion resuscitate resuscitation decompress decompression synchronised shock"
)
"""Words of treatments that are no drugs: there is no other drug to mistake them for."""

THINGS = keys_in(
    """
    car cars taxi bike boat bridge station airport ticket queue shop store market office library
    canteen kitchen bathroom bedroom ceiling carpet curtain cupboard shelf drawer desk lamp printer
    screen button keyboard password computer internet website email letter postcard stationery pen
    pencil page print printed essay poem film films television radio channel picture photo
    photograph camera microphone football match team score scores points rice pizza cheese milk
    biscuit cake
    sugar lemon apple sandwich breakfast lunch dinner supper restaurant cook shoes shirt coat hat
    umbrella luggage bag trolley ladder box furniture hammer paint clean cleaner tidy laundry cat
    cats dog dogs bird birds horse fish rabbit cow sheep garden grass clouds beach sea lake river
    mountain holiday birthday christmas party wedding church court evidence police lawyer bank
    lecture exam homework class lesson museum castle king queen president government war peace
    song singer dance joke funny clever stupid boring interesting favourite important
    mother mum father dad aunt uncle cousin neighbour boss porter driver cook taller shorter
    charge battery plug switch engine wheel petrol log logout login skip cancel undo exit
    tonight pizza joke story headline weather sunny raining money bill bills rent
    station platform passport visa tourist corridor roof brick plumber builder
    electrician carpenter farmer tractor field crops vegetables onions beans salad recipe oven
    fridge kettle plate plates spoon knife jar tin
    """
)
"""Things and doings of everyday life that no examination needs: a text about them asks nothing."""

COMMON = THINGS | keys_in(
    """
    the be to of and in that have it for not on with he as you do at this but his by from they we
    say her she or an will my one all would there their what so up out if about who get which go
    me when make can like time no just him know take people into year your good some could them
    see other than then now look only come its over think also back after use two how our work
    first well way even new want because any these give day most us tell told write wrote read
    name role please thank start stop begin end open close hold turn move walk run talk speak
    spoken word words something anything nothing everything someone anyone nobody everybody always
    never sometimes often today tomorrow yesterday morning evening night week month hour minute
    moment long short big small large great old young high low near far early late warm cold hot
    wet dry clean dirty slow quick fast happy sad nice fine better worse best worst same different
    table chair house home school door window room floor wall book paper phone water food bread
    meal tea coffee milk music song dance game play watch movie dog cat bird horse fish tree
    bed weekend weekends tyre tyres oil
    flower garden street road car bus train plane money price cost buy sell shop city country
    world friend mother father brother sister husband wife son daughter baby family red blue green
    yellow white black brown orange purple sky sun moon star rain snow wind weather summer winter
    spring autumn answer question problem idea story news reason life death love hate hope help
    through between under above below behind across along since before again once here why where
    while both few more such own too very down off still between against each every another many
    much less least enough almost perhaps maybe quite rather really
    going being having doing saying making getting seeing finding feeling trying asking using
    timer timers reset minus bonus music sunset favourite alarm fire break breaks plus
    hello goodbye yes sorry excuse dear sir madam doctor nurse student teacher
    """
)
"""Everyday words that spelling correction leaves alone."""


def tells(key: str) -> bool:
    """Whether a key tells what is meant: it is neither an empty word nor a verb."""
    return key not in EMPTY and key not in VERBS


def is_idle(key: str) -> bool:
    """Whether a word neither names a step nor tells a manner: empty, or of everyday speech."""
    return key in EMPTY or (key in COMMON and key not in KEPT and key not in VERBS)
