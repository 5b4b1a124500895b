"""Words that decide whether a name is a person's: eponyms, ordinary words, what people do.

Written from general knowledge of the trade (common practice, no source): anatomy, diseases,
procedures and instruments that bear somebody's name, and surnames that are also words.
All are in lower case and without accents, as `fold.fold` gives them.
"""

from __future__ import annotations


def word_set(text: str) -> frozenset[str]:
    """Return the words of a text as a set."""
    return frozenset(text.split())


EPONYM_NOUNS = word_set(
    """
    airway anastomosis aneurysm angina angle anomaly approach arteritis arthroplasty bag balloon blade
    block bougie bypass caliper calipers canal cannula capsule catheter cell cells chart chopper circle
    circuit clamp class clip closure conduit contracture corpuscle criteria curve cyst deformity
    degeneration dehiscence disease diverticulum drain duct dystrophy elevator excision fascia fibers
    fibres fissure fixator flap fold foot foramen forceps fossa fracture frame fundoplication gag gait
    gangrene gastrectomy gland glands grade graft grid hepatitis hernia herniotomy hip hook implant
    incision injury keratoplasty knee knife knot laryngoscope law lens lesion ligament limits line loop
    lymphoma maneuver manipulator manoeuvre mask mass membrane method modulus murmur muscle myotomy nail
    needle
    neuropathy node nodes nodule operation orbitopathy osteotomy palsy patch peel phenomenon pin pins
    plane plate plexus point position pouch pressure probe procedure prosthesis pupil pylorus
    reconstruction reflex repair resection retinopathy retractor ridge ring rings rod rongeur rule
    sarcoma scale scissors score screw segment shunt sign sinus solution space speculum sphincter splint
    splints spots spur stage stain stem stenosis sternotomy stitch sucker suction sulcus suture sutures
    swab syndrome system tear technique tendon test thickness thyroiditis tip tips tonometer triad
    triangle trocar tube tubes tumor tumour type ulcer unit valve vein wire wires wrap zone zonule
    """
)
"""What follows an eponym: `Foley catheter`, `Weber B fracture`."""

EPONYMS = word_set(
    """
    achilles addison adie adson ahmed alcock allen allis altemeier alvarado alzheimer ambu amsler apgar
    argyll asherman austin axenfeld babcock babinski baerveldt bain baker bakri balfour bankart
    barraquer barrett barron bartholin bartter bassini bayes beck behcet bell bennett bentall berger
    berry best bier billroth bishop blake blalock boerhaave bookwalter bowman boyle braden bravo breslow
    bristow bromage brown bruch brugada budd burch burow calot caldwell camper carpenter castroviejo
    charcot charnley chiari child chiba christmas chvostek cionni clavien cloquet coats cobb colles conn
    cook cooper cormack courvoisier cowper crawford crohn cullen cushing cusco cutler davis deaver
    debakey delorme denonvilliers descemet dindo dix doppler douglas down doyen dressler drysdale duane
    dubin dukes duhamel dupuytren ebstein edwards eisenmenger elschnig epley esmarch eustachian ewing
    exeter faden fallopian fallot fasanella finochietto fisher fogarty foley fontaine fontan forrest
    fournier fowler frazier freer frey fuchs galeazzi galen garden gelpi gerota giemsa gigli girdlestone
    glasgow gleason glenn glisson gold goldmann goodpasture gram graves grave green grey guedel guillain
    gunn gustilo hall harrington hartmann hashimoto hasson hegar heimlich heller henle hesselbach
    hickman hill hinchey hirschberg hirschsprung hodgkin hoffman hohmann homans horner hughes hunter
    huntington ilizarov irvine ivor jackson jensen joel johnson jones kasai kaposi kawasaki kayser
    keller kelly kelman kernig kerrison kielland kiesselbach killian killip kirschner klippel knapp koch
    kocher krukenberg kuglen ladd lachman lane langenbeck langerhans lanz laplace latarjet leber lees
    legg leriche lewis lichtenstein lieberman lisfranc little littre lloyd lockwood ludwig lynch
    macintosh mackenrodt maddox magill mallampati mallory malyugin manchester marcus marfan marshall
    maze mayo mcburney mccannel mccoy mcdonald mckeown mcmurray mcpherson mcroberts meckel meibomian
    mendelson meniere merkel metzenbaum miles miller milligan mirizzi mohs molteno monro monteggia moore
    mooren morgan morison mueller muller murphy mustard mustarde nagahara neville nissen norwood oddi
    ogilvie oxford paget palmer parkinson passavant patey penrose perthes peters petersen peyronie
    pfannenstiel phalen pierre plummer posner pott potts poupart pringle prinzmetal purkinje purtscher
    quickert quincke ramstedt randall ranson rathke raynaud redivac retzius rich richter ringer rinne
    robertson robin rockwood romberg rose rosenmuller ross roux rovsing rubin rutherford ryle salter
    salzmann santorini satinsky scarpa schatzki schirmer schlemm schwalbe seidel seldinger sellick
    sengstaken shafer sharp sheehan shirodkar shouldice siepser simcoe sims sinskey sistrunk sjogren
    skene smith snellen soemmering soave spencer stargardt stensen steinmann stevens still sturge swan
    swenson sylvius takayasu taussig tenckhoff tenon terrien terson thiersch thomas thompson tillaux
    tinel todaro toldt travers treitz trendelenburg trousseau truelove tuohy turner utrata valsalva
    vancouver vannas vater verbrugge veress virchow vogt volkmann vossius wagner waldeyer wallace
    warthin water waterlow waters weber weck weiss wells wertheim westcott wharton whipple white
    whitacre whitnall wieger williams willis wilms wilson wirsung witzel wolff wrigley yamane yankauer
    young zavanelli zenker ziehl zinn zollinger
    """
)
"""Names that a disease, part, procedure or instrument bears."""

ORDINARY = word_set(
    """
    abbot amber april art arch august autumn baker ball bank banks barber bass bay bean berry best bill
    birch bird bishop black blood bloom blue bolt bond bone book booth bowel bowl bowman branch brand
    bridge bridges brook brooks brown buck bull burn burns bush butcher butler cable cannon care
    carpenter cart carter carver case cast castle chance chase child church clay clear close cloud coat
    coats cold cole cook coral counts court cross crow curl curry cutter daily dale dawn day dean dear
    deal decker diamond dick down drain draper drew drop duke dye earl east eden english ernest eve eye
    fair faith fall farmer fast felt field fields fine finger first fish fisher flag flint flood flower
    flowers foot force forest foster fountain fowler fox frame francis frank free freeman french friend
    frost gable gage garden gardener gates gauge gem gentle ginger glass gold golden good goose gore
    grace grain grand grant grave graves gray green grey grove guest gum hail hale hall ham hand hands
    hard hardy harp hart hawk hay hazel head heal heart heath heaven hill hind hip hogg hole holiday
    holly holt hood hook hope horn house hunt hunter iris iron ivy jack jade jewel john joint joy june
    junior just keen king kirk kitchen knight lace lake lamb lance land lane large lark law lay leaf
    lens leg light lily limb line ling link lip list little lock long loop lord love low lung lynch mace
    main major man mann march mark marsh martin mason massey masters may mead mercy merit miles mill
    miller mills mint mole moon moor moore moss mouth nail neck new nail night noble nose north nurse
    oak oakes olive opal orange orchard pace pack page pain palm palmer park parks parish parsons part
    pass pat patch patience peace peach peak pearl penny pepper percy perk peters pike pine piper pitt
    place plant plum point pole pollard pond poole poor pope porter post potter pound powers price pride
    priest prime prince prior pulse pump purple quick quill rain ray read red reed rest rice rich rider
    ring rise rivers road robin rock rod roll rood root rose ross round rowan ruby rule rush rust sage
    salt sands sandy savage scales seal sergeant sewell sexton sharp shaw shell shepherd ship shore
    short show silver singer sister skin slack small smart smith snow south spark sparks spear speed
    spencer spring stark star steel step stern stone storm stout strange street strong sue sugar summer
    summers sun swan sweet swift tanner taylor teal temple thorn tide tiller todd tongue tooth town
    tripp trotter tube tucker tulip turner twist underwood vale vein violet wade walk walker wall
    wallace ward warden warm warner waters watt way weaver webb wedge weeks wells west wheat wheeler
    white wick wild will wing winner winter winters wise wolf wood woods wool worth wound wren wright
    wrist yard york young
    """
)
"""Surnames and forenames that are also words."""

MONTHS = word_set(
    """
    january february march april may june july august september october november december
    """
)

PERSON_VERBS = word_set(
    """
    accepted added admitted agreed anaesthetised anesthetized and answered arrived asked assessed
    assisted attended became began believed called came cannot checked closed collapsed complained
    confirmed consented converted could decided declined described did died did discussed documented
    does elected enquired examined explained fell felt gave had handed has held helped inserted intubated is
    kept knew later lay left lives made mentioned needed noted noticed operated ordered paged performed
    placed prefers prescribed presented proceeded reassured recalled recognised recovered refused
    remained repaired replied reported requested retired returned reviewed said sat saw scrubbed signed
    spoke stated stayed stopped suggested supervised then thought told took tried underwent used waited
    wanted was went were who woke worked would wrote
    """
)
"""What follows a name at the start of a sentence, where a capital proves nothing."""

TITLES = (
    r"(?:[Ss]taff [Nn]urse|[Cc]harge [Nn]urse|[Ss]crub [Nn]urse|Baby [Bb]oy|Baby [Gg]irl|Baby|BABY|Professor|Doctor|Matron|Midwife|Sister|Nurse"
    r"|Madam|Dame|Lady|Miss|Prof|Lord|Drs|Mrs|Dr|Mr|Ms|Mx|Sir|Sr|PROF|MISS|SISTER|NURSE|MRS|DR|MR|MS|dr|mrs|mr|prof)\b\.?"
)
"""Words that announce a name."""

PARTICLES = word_set(
    """
    van von der den de del della di da dos das du la le ter ten bin binti ibn al el bint af av zu y e
    """
)
"""Small words inside a surname."""
