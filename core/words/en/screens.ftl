app = Swarfbook

subjects-patch = The patch
subjects-patch-after-magnet = The patch after the magnet
subjects-pan = The pan
subjects-magnet = The magnet
subjects-place = Where it goes
subjects-filter = The filter
subjects-part = The part
subjects-leak = The place looked at
subjects-other = A photo
subjects-display = The meter’s display

door-unreachable = The store does not answer.
door-unreachable-do = See that the hub is running and in reach, then try again.
door-typed-kept = Nothing typed is lost.
door-typed-here = Keep this page open: this browser keeps nothing, so what is typed stands here only.
door-stranger = This browser is not known here.
door-stranger-do = Open the address that the hub printed.
door-strange = The answer can't be read ({$status}).
door-strange-do = Try again.
door-broke = That did not work: {$said}
door-broke-do = Try again.

busy-file = Making the file…
busy-opening = Opening…
busy-writing = Writing it down…
busy-undoing = Undoing…
busy-photo = Keeping the photo…
busy-reading = Reading the photo…
busy-report = Writing the report…
busy-syncing = Asking the hub…

thumb-undo = Undo
thumb-undo-key = Undo
thumb-undo-what = Undo: {$what}
thumb-taken-back = Undone: {$what}
thumb-camera = Camera
thumb-back = Back
thumb-to-job = Back to the step
thumb-try-again = Try again
thumb-write-anyway = Write it anyway
thumb-change-it = Change it
thumb-understood = Understood
thumb-nothing-next = Nothing to press next

standing-later = later
standing-in-hand = in hand
standing-done = done
standing-skipped = skipped
standing-passed = not after “open up”

spine-label = Stages
spine-knot = {$number} {$title}, {$standing}
spine-step = {$title}, {$standing}
spine-more = More
spine-far = {$done} of {$all} stages

keypad-label = Number keys
keypad-point = point
keypad-mark = .
keypad-erase = erase
keypad-thousand = three noughts
keypad-letters = Letter keys
keypad-dash = dash
keypad-space = space
keypad-names-minus = plus or minus
keypad-names-above = more than
keypad-names-k = kilo
keypad-names-m = mega
keypad-keyboard = The phone’s own keyboard
keypad-less = less: {$what}
keypad-more = more: {$what}

first-run-hello = A notebook for gearbox work. Six things, then you can start.
first-run-card = The gauge card
first-run-card-why = It lies in every photo and tells its scale. Print it once, at 100 %.
first-run-begin = Begin
first-run-name-first = Your name first

tour-title = A look around
tour-at = {$at} of {$all}
tour-next = Next
tour-end = To the jobs
tour-leave = Leave
tour-pages-1-title = One step, one press
tour-pages-1-text = Each step shows what to do and what to beware of. The orange key at the bottom is what comes next. The drawings down the side are the stages: a press goes there, in any order.
tour-pages-2-title = The card lies in every photo
tour-pages-2-text = Print the gauge card at 100 %. Beside the debris it gives the photo its scale. The app counts the pieces; you correct and confirm the count.
tour-pages-3-title = Readings on one sheet
tour-pages-3-text = Name the parts and the maker’s limits once. Each reading says in one large word what it comes to, with a sound and in the hand, and the next part stands ready.
tour-pages-4-title = Written at once, always to be undone
tour-pages-4-text = Every press is in the log before the screen says so, with or without a signal. Undo takes back the last one. At the end the log is the signed report for the customer.

settings-language = Language
settings-technician = Your name, as the report gives it
settings-shop = The shop's name
settings-address = Address
settings-telephone = Telephone
settings-hand = Which thumb works?
settings-hands-left = Left
settings-hands-right = Right
settings-paper = Screen
settings-papers-bay = dark
settings-papers-desk = light
settings-glove = Gloves
settings-gloves-off = Bare hands
settings-gloves-on = Gloves: bigger
settings-meter = Your meter
settings-sound = After a reading
settings-sounds-on = Sound and vibration
settings-sounds-off = Silent
settings-guard = How sure before in or out of spec is said?
settings-guard-explain = A reading near a limit that is less sure than this is “too close to call”. 95 % is usual.
settings-guards-1-label = 50 %: no margin
settings-market = Where were the cars sold?
settings-markets-north-america = US or Canada
settings-markets-elsewhere = elsewhere
settings-markets-unknown = both, or not known
settings-keep = Save

files-title = An export
files-explain = Everything in it that this device lacks is imported: jobs, photos, customers. What is here already stays as it is.
files-none = Nothing waits to be imported.
files-take-in = Import it
files-came-in = { $lines ->
    [one] {$lines} line
   *[other] {$lines} lines
} and { $photos ->
    [one] {$photos} photo
   *[other] {$photos} photos
} imported.
files-unsigned = { $n ->
    [one] {$n} line is signed by nobody: nothing shows that its device wrote it.
   *[other] {$n} lines are signed by nobody: nothing shows that their devices wrote them.
}
files-lies = The file is kept: {$place}
files-card = gauge-card.pdf
files-checker = check-a-report.html
files-no-checker = The page that checks a report is not built into this app.
files-ask-hub = The shop’s hub shows it at /verify.

units-label = Which units?
units-of-distance = Distance driven
units-of-temperature = Temperature
units-of-torque = Torque
units-of-volume = Fluid
units-of-length = Length of bolts

jobs-label = Jobs
jobs-count = { $n ->
    [one] {$n} job
   *[other] {$n} jobs
}
jobs-new-job = New job
jobs-more = More
jobs-find = Find
jobs-search = Find a job
jobs-search-hint = plate, car, customer
jobs-untitled = No plate yet
jobs-empty-title = The book is empty.
jobs-empty-text = A job begins with the car on your lift: plate, complaint, codes. Then the book leads through the pan, the tests and the report, one thing at a time.
jobs-empty-next = Nothing needs a signal. Every press is written at once, and undo is always there.
jobs-none-found = No job fits “{$search}”.

job-one = Job
job-demo = invented demo
job-notebook = Notebook
job-steps = Steps of {$stage}
job-step-of = step {$at} of {$all}
job-finished = Everything is done or skipped. The report is under More.

step-caution = Caution
step-tick = Tick: {$title}
step-to-hand = To the step in hand: {$title}
step-is-done = Done.
step-not-yet = Not yet: see above
step-is-skipped = Skipped: {$reason}
step-is-passed = It was decided to open the unit up, so this step is not led through. It can be done all the same.
step-why = Why?
step-note = Note
step-leave-out = Skip, with a reason
step-leave-out-title = Skip: {$title}
step-leave-out-with = Skip it: {$reason}
step-leave-out-because = Or skip it, because:
step-reason = Why it is skipped
step-reason-first = The reason first
step-reasons-1 = this car has none
step-reasons-2 = the customer does not want it
step-reasons-3 = the maker's data say otherwise
step-reasons-4 = done before
step-reasons-5 = can’t be reached
step-reasons-6 = at the next visit
step-not-now = Back to the step

note-title = A note at: {$step}
note-text = In your words
note-who = Who reads it?
note-whos-report = In the report
note-whos-private = Only the shop
note-keep = Write the note
note-first = The words first

more-title = More
more-jobs = All jobs
more-hand = Back to the step
more-pan = The pan and the score
more-parts = Parts off
more-bench = Electrical parts
more-photos = Photos
more-log = The whole log
more-report = The report
more-customer = The customer’s answer
more-reports = { $n ->
    [0] not made yet
    [one] {$n} made
   *[other] {$n} made
}
more-card = The gauge card, to print
more-checker = The page that checks a report
more-everything = Everything here in one file
more-settings = Name, language, hand, screen
more-procedures = Procedures
more-record = How often the machine was right
more-sync = The shop's hub

log-machine = The machine:{" "}
log-taken-back = undone
log-unsigned = not signed
log-take-back = Undo this line
log-take-back-short = Undo
log-redo = Redo this line
log-redo-short = Redo
log-keep-it = Cancel
log-choose = Undo: {$what}
log-choose-redo = Redo: {$what}
log-short = { $lines ->
    [one] {$lines} line
   *[other] {$lines} lines
}, last: {$last}, {$at}
log-reason = Why (may be empty)

want-several = Several may hold: press each, then write.
want-what-it-is = What it is
want-say-what = Say what it is
want-label-car = The car
want-label-complaint = The complaint
want-label-codes-before = Codes on arrival
want-label-codes-after = Codes after the work
want-label-go-ahead = Go-ahead
want-label-parts-off = Parts off
want-label-parts-back = Parts back
want-label-census = The counts
want-label-components = Electrical parts
want-label-explains = What it explains
want-label-decision = Decision
want-label-replace = Replaced: {$what}
want-label-tighten = Tightened: {$what}
want-label-report = The report
want-label-answer = The customer’s answer
want-row = {$label}: {$state}
want-have = written
want-missing = to do
want-optional = optional
want-choose = Press one of the keys
want-enter = {$label}: enter it
want-write = Write: {$what}
want-offers = {$label}: keys
timed-start = Start the watch
timed-stop = Stop the watch
want-enough = That's all of these

photo-take = Photo: {$label}
photo-another = Another photo: {$label}
photo-open = Open photo: {$what}
photo-again = Take it again
photo-again-short = Again
photo-taken-again = taken again
photo-none = No photo yet.

camera-title = Camera: {$subject}
camera-live = What the camera sees
camera-still = The photo as taken
camera-held = This photo is on this page alone until it is kept: a reload or closing the page loses it.
camera-shoot = Take the photo
camera-opening = Opening the camera…
camera-keep = Keep this photo
camera-try-again = Try the camera again
camera-refused = The camera in the app can’t be opened. Allow it in the settings of the phone or the browser, or use one of the two keys below.
camera-file = Photo file
camera-system = Phone’s camera
camera-torch = Light
camera-itself = Automatic
camera-told = On a press
camera-advice-good = Good: hold still
camera-advice-dark = Too dark: bring a light
camera-advice-glare = Glare: turn the light aside
camera-advice-no-card = Show the whole gauge card
camera-advice-tilted = Hold it straight above
camera-advice-far = Go nearer
camera-advice-blurred = Not sharp: hold still
camera-lift-top = Lift the top edge
camera-lift-right = Lift the right edge
camera-lift-bottom = Lift the bottom edge
camera-lift-left = Lift the left edge
camera-loud = Sound on
camera-silent = Sound off
camera-doing-1 = Keep the photo
camera-doing-2 = Find the card, the pieces and what they are
camera-figures = {$tilt}° tilt, {$pxPerMm} px/mm
camera-hold = From the side: the phone level above it, the gauge card at its height.
camera-how-patch = Straight from above, the gauge card beside it, no glare.
camera-how-patch-after-magnet = The same place, after the magnet; the gauge card beside it.
camera-how-pan = Straight from above, nothing wiped, the gauge card in it.
camera-how-magnet = As it sits, before wiping; the gauge card at its height if there is room.
camera-how-place = So that somebody else could put it back.

stray-title = From the phone’s camera
stray-waits = { $n ->
    [one] {$n} photo
   *[other] {$n} photos
} of the phone’s camera came into no job, since the app was closed meanwhile. Open the job, then More.
stray-explain = The phone’s camera took it ({$when}), and the app was closed meanwhile. Is it for this step?
stray-torn = The phone’s camera left a file ({$when}) that is no whole photo. Take it again.
stray-picture = The photo of {$when}
stray-subject = What it shows
stray-leave = Leave this photo out
stray-leave-short = Leave it
stray-leaving = It comes into no job then, and is not asked about again.
stray-really-leave = Leave it out for good
stray-keep-after-all = Do not leave it out
stray-keep-short = Cancel
stray-later = Later
stray-none = No photo waits here.

car-plate = Plate
car-description = The car
car-description-hint = colour, body, gearbox
car-vin = VIN
car-odometer = Odometer
car-changed = Fluid last changed at (empty: nobody knows)
car-owner = Owner
car-contact = Telephone or mail
car-plate-first = Plate or VIN first
car-odometer-next = Now the odometer

gearbox-unit = The gearbox in it
gearbox-units-original = original
gearbox-units-rebuilt = rebuilt
gearbox-units-new = another, new
gearbox-units-used = another, used
gearbox-units-unknown = not known
gearbox-unit-at = It went in at (odometer)
gearbox-first = Its first service?
gearbox-firsts-yes = yes
gearbox-firsts-no = no
gearbox-firsts-unknown = not known
gearbox-wiped = Pan off and magnets wiped at the last service?
gearbox-wipeds-yes = yes
gearbox-wipeds-no = no
gearbox-wipeds-never = never off
gearbox-wipeds-unknown = not known

meter-own = own meter
meter-by-leaflet = Enter its accuracy
meter-explain = From its manual: ± (percent of reading + counts of the last digit).
meter-percent = Percent of reading
meter-counts = Counts
meter-take = This meter: ±{$percent} % + {$counts}

tools-title = Numbers of your tools
tools-explain = An expert asks for these. Each is asked once and stands in the report’s annex; what is empty is “not stated” there.
tools-clamp = current clamp
tools-wrench = torque wrench
tools-serial = Serial number: {$name}
tools-calibrated = Calibrated on: {$name}
tools-card-line = The line of 150 mm on the gauge card’s sheet, as you measure it
tools-card-day = Measured on
instruments-title = Measuring tools
instruments-explain = As a report names them beside each reading. What is not stated here is not stated there.
instruments-serial = Serial number
instruments-calibrated = Calibrated on
instruments-not-stated = not stated
instruments-card = Gauge card
instruments-card-line = Line of 150 mm
instruments-change = Change them in the settings

trend-plot = Pieces in 10,000 km at each visit, with 90 % intervals
trend-axis = Pieces of wear in 10,000 km; filled: this visit.
trend-now = now
trend-visits = Visits, oldest first

vin-scan = VIN: scan its bar code
vin-file = VIN: from a photo file
vin-from-photo = VIN from the photo taken here
vin-read = Read from the {$format}: {$vin}. Compare it with the car.

complaint-words = In the customer's words
complaint-what = What does it do?
complaint-when = When does it show?
complaint-keep = Write the complaint
complaint-first = The words first

codes-label = Codes read
codes-state = Stored or pending
codes-states-stored = stored
codes-states-pending = pending
codes-state-keys-pending = Pending
codes-state-keys-stored = Stored
codes-state-all = Stored or pending, and no other code
codes-state-all-keys-pending = Pending, no other code
codes-state-all-keys-stored = Stored, no other code
codes-typing = The code being typed
codes-pad = Code keys
codes-remove = Remove {$code}
codes-take-out = remove
codes-status = change
codes-status-of = Status byte of {$code}
codes-bits-of = Status bits of {$code}
codes-no-status = No status
codes-or-tap = or tap the bits that are set:
codes-bits-1 = fails now
codes-bits-2 = failed this cycle
codes-bits-3 = pending
codes-bits-4 = confirmed
codes-bits-5 = not tested since clearing
codes-bits-6 = failed since clearing
codes-bits-7 = not tested this cycle
codes-bits-8 = warning light
codes-in-bytes = Code as hex
codes-in-letters = Code as letter and digits
codes-take-bytes = Take {$bytes}
codes-failure-type = Failure type of {$code}
codes-finish = Finish {$typing}…
codes-none-key = No codes set
codes-none = Write: no codes set
codes-first = A code, or “No codes set”
codes-state-first = Stored or pending?
codes-write = Write: { $n ->
    [one] {$n} code
   *[other] {$n} codes
}

go-ahead-ways-in-person = {$who}, face to face
go-ahead-ways-phone = {$who}, by telephone
go-ahead-ways-message = {$who}, in writing
go-ahead-other = Who agreed, if somebody else
go-ahead-amount = Another amount
go-ahead-by = Who agreed
go-ahead-customer = the customer
go-ahead-amounts = Round sums
go-ahead-how = How
go-ahead-hows-in-person = Face to face
go-ahead-hows-phone = By telephone
go-ahead-hows-message = In writing
go-ahead-limit = The most it may cost before you ask again
go-ahead-currency = Currency
go-ahead-whos = Who agreed, to choose
go-ahead-who-first = Who agreed?
go-ahead-how-first = How did they agree?
go-ahead-limit-first = Up to how much, or no limit?
go-ahead-limits = Limit
go-ahead-no-limit-key = No limit agreed
go-ahead-up-to = Write: {$who}, up to {$amount}
go-ahead-no-limit = Write: {$who}, no limit

parts-label = Parts off
parts-item = What came off
parts-items-1 = bolts M6
parts-items-2 = bolts M8
parts-items-3 = bolts
parts-items-4 = nuts
parts-items-5 = screws
parts-items-6 = brace
parts-items-7 = tray
parts-items-8 = bracket
parts-items-9 = heat shield
parts-items-10 = clip
parts-items-11 = plug
parts-fasteners-1 = bolts
parts-fasteners-2 = nuts
parts-fasteners-3 = screws
parts-count = How many
parts-count-keys = So many
parts-size = Size
parts-length = Length
parts-place = Where it goes back
parts-places-1 = pan
parts-places-2 = front
parts-places-3 = rear
parts-places-4 = left
parts-places-5 = right
parts-places-6 = middle
parts-photo = Photo of the place
parts-photo-of = {$what}, {$n}
parts-tap-places = { $n ->
    [0] Tap each place in the photo.
    [one] {$n} place tapped.
   *[other] {$n} places tapped.
}
parts-last-place = Take the last place away
parts-off = Off: {$what}
parts-change = {$what}: change
parts-item-first = What came off?
parts-count-first = How many?
parts-place-first = Where does it go?
parts-enough-off = Nothing more came off
parts-still-off = { $n ->
    [0] nothing is off
   *[other] {$n} still off
}
parts-nothing = Nothing was taken off.
parts-standing-all-back = all back
parts-standing-all-off = off
parts-standing-some-off = {$off} of {$count} off
parts-back = { $n ->
    [one] One back
   *[other] All {$n} back
}
parts-back-name = { $n ->
    [one] One back
   *[other] All {$n} back
}: {$what}
parts-lost = Lost or spoilt
parts-lost-how = What happened to it
parts-write-lost = Write: one lost
parts-later-back = Go on, {$n} still off
parts-put-back = {$n} still off
parts-all-back = All is back

bench-label = Electrical parts
bench-kind = What is it?
bench-kind-first = What is it?
bench-poles = Its other pole
bench-by-case-case = Grounded by its case (one wire)
bench-name = Name in the maker’s diagram
bench-names = Names to choose
bench-name-first = Which one is it?
bench-named = Its name: {$name}
bench-change = {$what}: change
bench-suggest-temperature = Fluid temperature
bench-suggest-input-speed = Input speed
bench-suggest-output-speed = Output speed
bench-suggest-solenoid = Solenoid {$letter}
bench-connector = Connector: colour or mark
bench-number = Part number
bench-codes = Codes that name it
bench-low = Limit from
bench-high = Limit to
bench-at = at
bench-source = Where the limits stand
bench-source-hint = maker’s manual, page…
bench-sources = Whose data
bench-source-keys-1 = maker’s manual
bench-source-keys-2 = maker’s data system
bench-source-keys-3 = part’s data sheet
bench-sets = The parts of a gearbox that was here before
bench-parts-of = {$name}: { $n ->
    [one] {$n} part
   *[other] {$n} parts
}
bench-keep-set = Keep these parts for the next one like it
bench-set-name = What is this gearbox called?
bench-keep-set-as = Keep as: {$name}
bench-forget-set = Forget the parts of {$name}
bench-more-like = More like {$name}, and then others
bench-all-like = So many in all, all like {$name}, and no other part
bench-code-names = {$code} names (maker’s data)
bench-one-more = {$name}, like {$like}
bench-source-first = Where do the limits stand?
bench-same-limits = Same limits as {$name}: {$spec}
bench-write = Write: {$name} and its limits
bench-write-bare = Write: {$name}, no limits
bench-enough = That's all: { $n ->
    [one] {$n} part
   *[other] {$n} parts
}
bench-replaced = replaced
bench-no-spec = no limits entered
bench-how = How it was worked out
bench-nothing = No electrical part is named yet.
bench-to-readings = To the readings

limits-of = Limits of
limits-of-what = Limits of: {$what}
limits-at-keys = Temperature that the limits hold at
limits-at-unsaid = None is given
limits-at-assumed = About {$at} is then assumed, and the verdict is less certain.
limits-at-first = At which temperature do they hold?
limits-form = How the maker gives them
limits-forms-range = At one temperature
limits-forms-table = A table
limits-forms-b-value = A B value
limits-row = Row {$n} of the table
limits-celsius = At
limits-more-rows = One more row (cold to hot)
limits-tolerance = Tolerance
limits-b = B value
limits-ohms = Resistance
limits-least = At least
limits-more = more limits
limits-more-of = More limits: {$name}
limits-no = No more limits

readings-samples = Samples
readings-typed = What the meter shows
readings-display = Read the meter
readings-display-title = Reading the meter’s display
readings-display-live = What the camera sees
readings-display-unit = The display’s unit
readings-display-unit-first = Which unit does the display show?
readings-display-unit-check = The unit is not read: compare it with the display.
readings-display-write = Write {$value}
readings-display-hold = Hold the display in the frame
readings-display-still = Keep still…
readings-display-written = Written. Waiting for the next number.
readings-display-none = No display seen. Fill the frame with it.
readings-display-cut-off = Take in the whole display.
readings-display-too-small = Go nearer.
readings-display-doubtful = Not sure of it: avoid glare, hold straight above it.
readings-display-no-number = The display shows no number.
readings-display-keys = Number keys
readings-display-opening = Camera opens…
readings-display-refused = The camera can’t be opened: type the number. It can be allowed in the settings of the phone or the browser.
readings-display-unable = This device can’t read the display: type the number.
readings-part = The part’s temperature
readings-field-leads = leads {$value} Ω
readings-field-leads-unknown = leads: not known
readings-field-part = part {$value} {$degrees}
readings-field-part-unknown = part: {$degrees} not known
readings-field-top = meter ends at {$value} Ω
readings-field-top-unknown = meter ends at: not known
readings-field-volts = tester at {$value} V
readings-field-volts-unknown = no insulation tester
readings-field-applied = {$value} V at the part
readings-field-applied-unknown = volts at the part: not read
readings-from = Where was that temperature read?
readings-froms-probe-at-part = Probe at the part (± 1 K)
readings-froms-infrared = Infrared (± 3 K)
readings-froms-scan-data = Scan data (± 3 K)
readings-froms-surroundings = Air around it (± 3 K)
readings-from-first = Where was it read?
readings-tester-caution = Unplug the control unit and every sensor before an insulation tester touches anything.
readings-contact = Contact shown by
readings-contact-why = A slipped probe is the commonest false open. Show that the leads carry current, then an open can be believed.
readings-contact-by-leads = ✓ contact: leads together
readings-contact-by-sibling = ✓ contact: {$name} read
readings-contact-by-ticked = ✓ contact shown
readings-contact-by-not = contact: not shown
readings-contact-keys-leads = Leads held together: enter what they read
readings-contact-keys-sibling = {$name}, read with these leads
readings-contact-keys-ticked = Shown, no number
readings-contact-keys-not = Not shown
readings-applied-first = Volts at {$name}
readings-applied-caution = Through a fuse, the right way round, no longer than the maker allows. Nothing on electronics.
readings-by = Amperes read by
readings-by-first = What are the amperes read by?
readings-bys-meter = Meter in line
readings-bys-clamp = Clamp
readings-click = Click
readings-clicks-heard = Click heard
readings-clicks-none = No click
readings-leads-keys = Leads held together, Ω
readings-leads-unknown = Go on, leads not known
readings-meter = Meter
readings-meter-first = Which meter?
readings-meter-says = {$name} (±{$percent} % + {$counts})
readings-take = Take {$value}
readings-write = Write: {$samples}
readings-same-again = {$value} once more
readings-drop = Remove sample {$sample}
readings-to-samples = Now the reading
readings-first = Read {$name}
readings-next = Next: {$name}
readings-enough = That's all: readings
readings-parts-first = Name the parts first
readings-no-parts = No electrical part is named yet. That is the step before.
readings-sheet = Parts and what they read
readings-row = {$name}: {$says}
readings-steady = {$value}, three times alike
readings-jumps = It moves: keep {$value} and look again
readings-near = Three times alike, near like parts
readings-alike = Three times alike
readings-as-before = {$value} three times, as {$name}
readings-all-open = All {$n} show OL to ground
readings-all-open-done = All {$n} show OL to ground: done
readings-plot = {$value}: {$verdict}

harness-title = Wires: {$part}
harness-drawing = From the control unit on the left to the part on the right, ground below.
harness-how = From pin to pin and from each pin to ground, at both sides: it tells which stretch is open, shorted or has too much resistance.
harness-caution = Ignition off, control unit unplugged. Probe from the back of a plug or with the right pin: a wide probe spreads the contact.
harness-control = At the control unit’s connector, the part plugged in
harness-part = The part alone, unplugged
harness-wires = Each wire from end to end, unplugged at both
harness-looks-c = Pin {$first} to pin {$second}
harness-looks-c1 = Pin {$first} to ground
harness-looks-c2 = Pin {$second} to ground
harness-looks-p = The part, pin to pin
harness-looks-p1 = The part, pin {$first} to ground
harness-looks-p2 = The part, pin {$second} to ground
harness-looks-w1 = Wire of pin {$first}
harness-looks-w2 = Wire of pin {$second}
harness-looks-leads = Leads held together
harness-blank = – Ω
harness-pin = Name of pin {$n} in the diagram
harness-next = Next: {$look}
harness-first = Read: {$look}
harness-write = Write: { $n ->
    [one] {$n} number
   *[other] {$n} numbers
}
harness-open = The wires of {$part}

explains-read = Seen
explains-not-yet = Nothing to weigh yet
explains-nothing = No code and no reading to hold against the complaint yet.

tighten-torque = Torque by the maker’s data
tighten-torque-first = The torque, or to feel
tighten-how = How
tighten-hows-feel = By hand, to feel
tighten-hows-angle = Torque and angle
tighten-hows-by-hand = All started by hand
tighten-angle = Then turned on by
tighten-angle-first = The angle
tighten-by-hand-then = All started by hand, then {$passes} passes
tighten-by-hand-first = Press “All started by hand” when they are
tighten-passes = Passes
tighten-passes-first = How many passes?
tighten-write = Write: {$what} {$torque}

plan-show = Order and passes
plan-picture = Cross order of {$n} bolts, numbered
plan-passes = Passes, ticked one after another
plan-bolts = How many bolts
plan-more = With it
plan-mores-adapter = Adapter on the wrench
plan-mores-sealant = Sealant, no gasket
plan-lever = Wrench: middle of the grip to the square
plan-length = Adapter: square to the bolt
plan-angle = How the adapter stands to the wrench
plan-angles-0 = straight on
plan-angles-90 = square
plan-tool = How exact is the torque wrench?
plan-tools-none = Not said
plan-tools-scale = By its scale
plan-tools-percent = By its certificate
plan-most = Its scale ends at (ISO 6789)
plan-percent = Its certificate says
plan-is-instead = It is {$torque}
plan-is-sure = It is {$torque}, as typed
plan-doubt = Which is it?

replace-component = Which part
replace-what = What was replaced
replace-number = New part’s number
replace-batch = Batch or date code
replace-old = The old one
replace-olds-kept = Kept for the customer
replace-olds-not = Not kept
replace-write = Write: {$what} replaced
replace-first = What was replaced?
replace-whats = Replaced
replace-old-first = Where is the old one?
replace-enough = Nothing more replaced
replace-at-once = {$what} replaced
replace-at-once-kept = {$what} replaced, old one kept
replace-at-once-not = {$what} replaced, old one not kept

census-look-at = Look at: {$what}
census-enough = All counts confirmed
census-photos-first = Photos of pan, magnets and patch first
census-no-photos = No photo of the pan, a magnet or a patch yet.
census-not-read = Not read yet.
census-confirmed = ✓ Confirmed.
census-not-confirmed = ○ Not yet confirmed.

decision-label = What is decided
decision-choices-carry-on = Finish the work
decision-choices-watch = Watch
decision-choices-test-first = Test first
decision-choices-open-up = Open up
decision-tests = Next:
decision-advises = Advice:
decision-so-far = As counted so far:
decision-confirm-first = Confirm first: {$what}
decision-take = Decide: {$choice}
decision-overrule = Against the advice: {$choice}
decision-reason = Why you decide otherwise
decision-reason-first = The reason first
decision-reasons-1 = the customer wants it so
decision-reasons-2 = debris is from an earlier repair
decision-reasons-3 = seen with my own eyes: sound
decision-reasons-4 = more than the photo shows
decision-choose = What do you decide?
decision-not-yet = There is nothing to weigh yet: confirm a count first.
decision-was = Decided: {$what}

pan-table = Weights: {$name}
pan-gauge = Band {$numeral}, {$band}. Wear score {$score}, between {$lo} and {$hi}.
pan-score = score {$score} ({$lo} to {$hi}) of 100
pan-reasons = Reasons, heaviest first
pan-share = {$share} %
pan-more = { $n ->
    [one] 1 more reason
   *[other] {$n} more reasons
}
pan-basis = What this rests on
pan-photo = Photo
pan-see-photo = Photo behind: {$reason}
pan-missing = Not known yet:
pan-nothing = Nothing was counted yet. The score comes from the photos of pan, magnets and patch.

review-all = All pieces
review-read = Read this photo
review-stand-by = Confirm { $n ->
    [one] {$n} piece
   *[other] {$n} pieces
}
review-piece = Piece {$number} of {$of}
review-previous = Previous piece
review-next = Next piece
review-close = Close the piece
review-what-is-it = What is it?
review-not-debris = not debris
review-redrawn = Outline by the technician.
review-two = Split
review-cut = Cut
review-join = Join
review-cut-ask = Tap on one side of the piece, then on the other side of it.
review-join-ask = Tap the other piece.
review-leave-it = Cancel
review-same-place = Which photo it belongs to
review-same-place-ask = What two photos of one place show is counted once. What a magnet took is steel.
review-alone = There is no earlier photo that this one could belong to.
review-machine-said = The machine said {$what}.
review-likely = {$p} % sure
review-tabs = About this photo
review-panels-1-label = Kinds
review-panels-2-label = Sizes
review-panels-3-label = Limits
review-panels-4-label = Same place
review-panels-5-label = Set the scale
review-filter-class = Show only these kinds
review-filter-size = Show only these sizes
review-show-all = Show all again
review-count = {$n} ({$lo} to {$hi})
review-no-sizes = No sizes without a scale.
review-below-seen = * Pieces so small can’t all be seen in this photo.
review-scale = Scale:
review-cannot = What this photo can’t show
review-zoom = Zoom in
review-out = Zoom out
review-gestures = Two fingers zoom. One finger moves it when it is zoomed. Press and hold: no outlines.

how-to-title = How to photograph debris
how-to-steps-1-title = Spread it thin
how-to-steps-1-text = Pour or wipe the residue onto white, lint-free paper. No heaps: pieces that lie on one another are counted as one.
how-to-steps-2-title = Lay the gauge card beside it
how-to-steps-2-text = Flat, clean, at the same height, the whole card in the picture. It gives scale, level and white.
how-to-steps-3-title = Hold the phone level above
how-to-steps-3-text = A hand’s length up, light from the side, no glare. The arrow says which edge to lift.
how-to-legend = What the pieces are
how-to-meanings = Common practice, no published source. The maker’s procedure comes first.

tray-how = Tap: it is right. Hold: see it in the photo. %: how sure.
tray-heaps-grave = Heaviest in the score
tray-heaps-doubtful = In doubt
tray-heaps-sure = Sure
tray-heaps-not-debris = Not debris
tray-confirmed = Confirmed
tray-rest = { $left ->
    [0] Confirm all {$all}
   *[other] The rest is right: {$left}
}
tray-none = { $n ->
    [one] Confirm: it is not debris
   *[other] Confirm: none of these {$n} is debris
}
tray-all-kinds = All kinds
tray-in-photo = In the photo
tray-to-photo = The photo
tray-to-tray = The tray
tray-legend = Legend
tray-letters = Letters
tray-more-keys = More
tray-less-keys = Less
tray-lost = The photo can’t be shown here; the figures stand.

help-label = What to tap
help-taps = Known length
help-magnet = The magnet
help-drop = Drop of fluid
help-ask-taps = Tap the two ends of something whose length you know: a bolt head, a ruler.
help-ask-subject = Tap the middle of the magnet’s face.
help-ask-fluid = Tap the middle of the drop of fluid.
help-known = Known lengths
help-lengths-8 = 8 mm head
help-lengths-10 = 10 mm head
help-lengths-13 = 13 mm head
help-lengths-50 = 50 mm ruler
help-length = Length between the taps
help-where = The taps lie
help-wheres-ground = on the ground
help-wheres-subject = on the magnet
help-read-again = Read it again with this
help-not-yet-subject = Tap the magnet
help-not-yet-fluid = Tap the drop
help-not-yet-taps = { $taps ->
    [0] Tap one end
    [one] Tap the other end
   *[other] How long is it?
}

report-look = Look at the report
report-explain = It is read through before it is made. What is made is signed and can’t change.
report-make = Make the report
report-again = Write it again
report-made = The report is made.
report-given-answer = {$title}. {$asked}:
report-save = Save the file
report-save-pdf = Save it as PDF, to print
report-share = Send the report
report-frame = The report
report-leave-out = Leave out of this copy
report-leave-outs-customer = Customer’s name
report-leave-outs-car = Plate and VIN
report-leave-out-note = Photos stay as they are: look whether one shows a name or a plate.
report-named-texts = These typed texts hold it. None is changed in part.
report-holds-name-goes = Holds “{$holds}”: left out whole.
report-holds-name-stays = Holds “{$holds}”: stays as written.
report-word-texts = Texts that hold a word of the name only
report-word-text-choices-leave = Leave out whole
report-word-text-choices-keep = Keep: no name there
report-reads = The customer reads

costs-open = Enter prices (optional)
costs-explain = What you ask for each, in the letter and on the customer’s page. What stays empty says “not stated”.
costs-added = Added to the price of: {$what}
costs-added-hint = with tax, without parts
costs-keep = Save the prices

reports-title = Reports that were made
reports-list = Made so far: { $n ->
    [one] {$n} report
   *[other] {$n} reports
}
reports-back = Back to the report
reports-form-page = as a page
reports-form-paper = for paper
reports-shared = shared with the customer
reports-stands = It is valid.
reports-superseded = Superseded by the one made {$when}.
reports-withdrawn = Withdrawn {$when}: {$reason}
reports-withdraw = Withdraw it
reports-withdraw-now = Withdraw it now
reports-reason = Why? The customer reads this.

customer-explain = A link that only this customer gets. It opens the report on the shop’s hub, and there they answer each thing that you advise. The link is shown once.
customer-link = Make a link
customer-to-links = To the link
customer-ask = The customer answers on the report itself: agree, decline or ask, each thing that you advise.
customer-later = The answer comes later
customer-another = Make another link
customer-days = Open for
customer-day-choices-1-label = 7 days
customer-day-choices-2-label = 30 days
customer-day-choices-3-label = 90 days
customer-code = Ask for a code
customer-code-choices-no = No code
customer-code-choices-yes = Code by phone
customer-shown = Let the customer scan this, or send it.
customer-qr = The link as a QR code
customer-tell = Tell them this code by phone: {$code}
customer-made = Made {$when}.
customer-until = Open until {$day}.
customer-copy = Copy the link
customer-copied = Copied.
customer-sync = The hub must have the job before the link opens: exchange now.
customer-open = Links that are open
customer-close = Close
customer-closing = Closing the link…
customer-none = No answer yet.
customer-by = {$name}, {$when}
customer-says-answers = { $answers ->
    [one] {$answers} answer
   *[other] {$answers} answers
}
customer-says-no-answer = no answer yet
customer-says-not-asked = not asked yet

sync-explain = The hub is the shop’s own computer. It shows a picture for this phone’s camera, and an address, a one-time code and a fingerprint: enter them once, and the two know each other.
sync-is-hub = This is the hub itself: what is written here is in the shop’s book at once.
sync-show-code = Show a one-time code
sync-phones-pair = Phones pair with it, by its address and the one-time code that it shows.
sync-address = Address
sync-address-hint = https://…
sync-code = One-time code
sync-fingerprint = Fingerprint of its certificate
sync-fingerprint-hint = its first 20 digits
sync-first = Address and code first
sync-pair = Pair with the hub
sync-now = Exchange now
sync-other = Pair with another hub
sync-hub = Paired with {$address}.
sync-last = Last exchange: {$when}.
sync-never = No exchange yet.
sync-waiting-none = The hub has everything.
sync-waiting = Waiting: { $lines ->
    [one] {$lines} line
   *[other] {$lines} lines
}, { $photos ->
    [one] {$photos} photo
   *[other] {$photos} photos
}.

record-by-class = By the class that it said
record-by-size = By size
record-calibrate = Calibrate the classes of new counts
record-calibrates-off = No
record-calibrates-on = Yes
record-repeats = How well photos repeat
record-repeats-explain = Worked out by ISO 5725 from photos of one patch that were said to show the same place, as the machine read them, without corrections.

code-table-title = What codes point at
code-table-explain = A table ties codes to kinds of parts, so that a reading can be held against a code. A shop can put its own rows before it, from a file.
code-table-says = { $rows ->
    [one] {$rows} row
   *[other] {$rows} rows
}, { $own ->
    [0] none of your own
   *[other] {$own} of your own
}.
code-table-file = File with rows
code-table-add = Put in your own rows from a file
code-table-added = Put in: {$name}
code-table-show = See your own rows
code-table-remove = Take your own rows out
code-table-gone = Taken out: your own rows

procedures-explain = A shop can add its own procedure from a file, or a new version of one. Jobs keep the version they began with.
procedures-file = Procedure file
procedures-add = Add a procedure from a file
procedures-added = Added: {$name}
procedures-new-job = New job: {$title}

tighten-to-feel = to feel
report-file = report
report-file-job = job
go-ahead-currencies = EUR GBP USD
procedures-says = version {$version}, { $steps ->
    [one] {$steps} step
   *[other] {$steps} steps
}{ $ships ->
    [yes] , ships with the book
   *[no] {""}
}
