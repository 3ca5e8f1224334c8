"""Set phrases of the trade that mean one thing, brought to one form before anything is compared.

Each line reads ``form = variant; variant; ...``. The same rewriting is done to the catalogue's own
words, so the form itself need not be pretty. Trade usage, common practice; no single source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from casebank.domain.examination.stems import key_of

_FORMS = """
jvp = jugular venous pressure; jugular venous pulse; jugular venous pulsation; jugular vein pressure
jvp = jugular pressure; jugular pulse; neck veins; neck vein; venous pressure; venous pulse
jvp = jugular veins; internal jugular; internal jugular vein; jugular vein; jugular pulsation
bp = blood pressure; b p; arterial pressure; sphyg; sphygmomanometer; sphygmomanometry
rr = respiratory rate; resp rate; breathing rate; rate of breathing; breath rate; resps
rr = breaths per minute; count breaths; count the breaths
hr = heart rate; pulse rate; rate of the pulse; rate of the heart
spo2 = oxygen saturation; oxygen sats; o2 sats; o2 saturation; sats; saturation; pulse oximetry
spo2 = pulse oximeter; pulse ox; sao2; saturations; oxygen saturations; sat probe; sats probe
spo2 = oximetry; oximeter
crt = capillary refill time; capillary refill; cap refill; capillary return; cap refill time
crt = capillary filling time; capillary filling
ecg = electrocardiogram; electrocardiograph; ekg; 12 lead ecg; twelve lead ecg; 12 lead; ecg trace
ecg = 12 lead ekg; 12 lead electrocardiogram; heart trace; electrocardiography; ecg tracing
cxr = chest xray; chest radiograph; chest film; xray chest; radiograph of the chest; chest x ray
cxr = plain film of the chest; xray of the chest; x ray of the chest; chest radiography
fbc = full blood count; cbc; complete blood count; full blood picture; fbp; blood count
u&e = urea and electrolytes; u and e; u&es; ues; u es; u e; urea electrolytes; renal profile
u&e = us and es; urea creatinine electrolytes; bmp; basic metabolic panel; electrolytes and urea
lft = liver function tests; liver function; liver blood tests; liver panel; liver profile
tft = thyroid function tests; thyroid function; thyroid blood tests
abg = arterial blood gas; arterial blood gases; arterial gas; blood gases; blood gas
crp = c reactive protein
esr = erythrocyte sedimentation rate; sedimentation rate
bnp = brain natriuretic peptide; ntprobnp; nt probnp; natriuretic peptide; natriuretic peptides
pmh = past medical history; previous medical history; pmhx; medical history; past history
pmh = previous illnesses; past illnesses
dh = drug history; medication history; drug hx; dhx; medicines history; current medication
dh = regular medication; regular medicines; current medicines
fh = family history; fhx; family hx
shx = social history; social hx
hpc = history of presenting complaint; hopc; history of present illness; hpi
hpc = history of the presenting complaint
pc = presenting complaint; presenting problem
ros = systems review; review of systems; systematic enquiry; systems enquiry; systemic enquiry
gcs = glasgow coma scale; glasgow coma score; coma scale
avpu = acvpu; avpu scale
pefr = peak expiratory flow; peak flow; pef; peak expiratory flow rate; peak flow rate
ctpa = ct pulmonary angiogram; ct pulmonary angiography
echo = echocardiogram; echocardiography; echocardiograph; tte; transthoracic echo; heart ultrasound
echo = cardiac ultrasound; ultrasound of the heart; cardiac echo; heart scan; heart echo
echo = transthoracic echocardiogram
ultrasound = uss; ultrasonography; ultrasonogram; sonogram; sonography; ultrasound scan; us scan
ct = computed tomography; ct scan; cat scan; computerised tomography
mri = magnetic resonance imaging; mr scan; mri scan; magnetic resonance
xray = x ray; radiograph; x rays; plain film; roentgenogram
left sternal edge = lse; left sternal border; left parasternal edge; lsb
lower left sternal edge = llse; llsb; left lower sternal edge; left lower sternal border
lower left sternal edge = lower left sternal border; lower left parasternal edge
right sternal edge = rse; right sternal border; rsb
upper right sternal edge = ruse; rusb; right upper sternal edge; right upper sternal border
upper right sternal edge = upper right sternal border
upper left sternal edge = luse; lusb; left upper sternal edge; left upper sternal border
upper left sternal edge = upper left sternal border
right upper quadrant = ruq
left upper quadrant = luq
right lower quadrant = rlq
left lower quadrant = llq
right iliac fossa = rif
left iliac fossa = lif
right hypochondrium = rhc; right hypochondriac
left hypochondrium = lhc; left hypochondriac
apex beat = apical impulse; pmi; point of maximal impulse; apical beat; apex impulse
apex beat = cardiac impulse; heart impulse; point of maximum impulse; apical pulsation
intercostal space = ics; interspace; inter costal space; rib space
abdominojugular = hepatojugular; hepato jugular; abdomino jugular; hjr; ajr; hepatojugular reflux
abdominojugular = abdominojugular reflux; hepato jugular reflux; abdominojugular reflex
abdominojugular = hepatojugular reflex
radiofemoral = radio femoral; radial femoral; rf delay; r f delay; r f
radioradial = radio radial
waterhammer = water hammer; corrigan; corrigans pulse; corrigan pulse
shoulder blade = scapula; scapulae; scapular; shoulder blades
between shoulder blade = interscapular; between the scapulae; between the shoulder blades
xiphisternum = xiphoid; xiphoid process; xiphoid cartilage
below xiphisternum = subxiphoid; sub xiphoid; subxiphisternal
clavicle = collarbone; collar bone
axilla = armpit; underarm; arm pit; axillary region
oedema = fluid retention; dropsy; water retention
calf = calves
vital = vitals; vital signs; obs; observations; observation set; set of obs; vital observations
vital = set of observations; set of vitals; set of vital signs
blood glucose = bm; capillary glucose; blood sugar; bms; finger prick glucose; cbg; bsl; glucometer
blood glucose = fingerprick glucose; capillary blood glucose; sugar level
temperature = body temperature
breathlessness = shortness of breath; sob; short of breath; dyspnoea; dyspnea; out of breath
breathlessness = difficulty breathing; breathing difficulty
orthopnoea = breathless lying flat
pnd = paroxysmal nocturnal dyspnoea; paroxysmal nocturnal dyspnea; waking breathless
loc = loss of consciousness; blackout; blackouts
oxygen = o2
iv = intravenous; intravenously
prescribe = rx
gtn = glyceryl trinitrate; nitroglycerin; nitroglycerine
wash hand = hand wash; hand washing; hand hygiene; sanitise hands; sanitize hands; hand sanitiser
wash hand = gel hands; hand gel; alcohol gel; alcohol rub; clean hands; hand rub; alcohol hand rub
wash hand = decontaminate hands; hand sanitizer
shine = shine a light; shine light
fundoscopy = ophthalmoscopy; funduscopy
rectal examination = pr exam; dre; per rectum; digital rectal; rectal exam; pr examination
rectal examination = digital rectal examination
lymph node = lymph nodes; lymph glands; lymph gland
radial = wrist pulse; pulse at the wrist; radial artery; pulse in the wrist
precordium = praecordium; front of the heart; praecordial; precordial
jvp = jvd; jugular venous distension; jugular vein distention; jugular distension
carotid = carotid artery; carotid arteries
brachial = brachial artery
femoral = femoral artery
popliteal = popliteal artery
posterior tibial = posterior tibial artery
murmur = heart murmur; cardiac murmur; murmer
heart sound = s1 s2; s1 and s2
lung base = lung bases; bases of the lungs; base of the lungs; base of the lung; basal lung
lung base = bottom of the lungs; lower lung; bibasal; bibasilar; lungs bases; base of lung
crackle = crackles; crepitations; creps; crepitation; rales
wheeze = wheezing; wheezy; wheezes
foot bed = bed foot; foot end; end of the bed; bed end; end of bed; foot of the bed; bedend
foot bed = bedsend; bottom of the bed
power = strength; motor power; muscle strength; mrc grade; mrc power
arm = ul; uls; upper limb; upper limbs; upper extremity; upper extremities
leg = ll; lls; lower limb; lower limbs; lower extremity; lower extremities
saphenofemoral junction = sfj; sapheno femoral junction; saphenous junction
heparin = lmwh; low molecular weight heparin; lmw heparin
cn = cranial nerve; cranial nerves; cns
cn 1 = cn i; first cranial nerve; first nerve; cranial nerve i
cn 2 = cn ii; second cranial nerve; second nerve; cranial nerve ii
cn 3 = cn iii; third cranial nerve; third nerve; cranial nerve iii
cn 4 = cn iv; fourth cranial nerve; fourth nerve; cranial nerve iv
cn 5 = cn v; fifth cranial nerve; fifth nerve; cranial nerve v
cn 6 = cn vi; sixth cranial nerve; sixth nerve; cranial nerve vi
cn 7 = cn vii; seventh cranial nerve; seventh nerve; cranial nerve vii
cn 8 = cn viii; eighth cranial nerve; eighth nerve; cranial nerve viii
cn 9 = cn ix; ninth cranial nerve; ninth nerve; cranial nerve ix
cn 10 = cn x; tenth cranial nerve; tenth nerve; cranial nerve x
cn 11 = cn xi; eleventh cranial nerve; eleventh nerve; cranial nerve xi
cn 12 = cn xii; twelfth cranial nerve; twelfth nerve; cranial nerve xii
mental state = mse; mental status
dvt = deep vein thrombosis; deep venous thrombosis
pe = pulmonary embolism; pulmonary embolus
"""

_WORDS = re.compile(r"[a-z0-9&]+")
Rewrites = dict[str, list[tuple[tuple[str, ...], tuple[str, ...]]]]

_PASSED_OVER = frozenset({"a", "an", "the", "of", "his", "her", "their", "my"})
_UNWRITTEN = _PASSED_OVER | {"and"}


def _keys(text: str) -> tuple[str, ...]:
    return tuple(key_of(word) for word in _WORDS.findall(text) if word not in _UNWRITTEN)


def _rules() -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    for line in _FORMS.strip().splitlines():
        form, variants = line.split(" = ")
        for variant in variants.split("; "):
            yield _keys(variant), _keys(form)


def _rewrites() -> Rewrites:
    table: Rewrites = {}
    for variant, form in sorted(_rules(), key=lambda rule: (-len(rule[0]), rule)):
        if variant != form:
            table.setdefault(variant[0], []).append((variant, form))
    return table


REWRITES = _rewrites()
"""First key of a variant to its rules ``(variant, form)``, the longest first."""

SINGLE = frozenset(first for first, rules in REWRITES.items() if any(len(v) == 1 for v, _ in rules))
"""Keys that are a variant by themselves."""
PAIRS = frozenset(
    (first, variant[1])
    for first, rules in REWRITES.items()
    for variant, _ in rules
    if len(variant) > 1
)
"""The first two keys of every longer variant."""

PASSED_OVER = frozenset(key_of(word) for word in _PASSED_OVER)
"""Articles and possessives that may stand inside a set phrase."""

KNOWN_WORDS = frozenset(_WORDS.findall(_FORMS))
"""Every word of the table, for spelling correction."""
