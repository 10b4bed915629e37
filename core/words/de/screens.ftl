app = Swarfbook

subjects-patch = Der Abstrich
subjects-patch-after-magnet = Der Abstrich nach dem Magneten
subjects-pan = Die Ölwanne
subjects-magnet = Der Magnet
subjects-place = Wo es hingehört
subjects-filter = Der Filter
subjects-part = Das Teil
subjects-leak = Die geprüfte Stelle
subjects-other = Ein Foto
subjects-display = Die Anzeige des Messgeräts

door-unreachable = Der Speicher antwortet nicht.
door-unreachable-do = Prüfen, ob der Server der Werkstatt läuft und erreichbar ist, dann noch einmal versuchen.
door-typed-kept = Nichts Getipptes ist verloren.
door-typed-here = Diese Seite offen lassen: dieser Browser behält nichts, Getipptes steht nur hier.
door-stranger = Dieser Browser ist hier nicht bekannt.
door-stranger-do = Die Adresse öffnen, die der Server ausgegeben hat.
door-strange = Die Antwort ist nicht lesbar ({$status}).
door-strange-do = Noch einmal versuchen.
door-broke = Das hat nicht geklappt: {$said}
door-broke-do = Noch einmal versuchen.

busy-file = Die Datei entsteht …
busy-opening = Wird geöffnet…
busy-writing = Wird aufgeschrieben…
busy-undoing = Wird rückgängig gemacht…
busy-photo = Foto wird abgelegt…
busy-reading = Foto wird ausgewertet…
busy-report = Bericht wird geschrieben…
busy-syncing = Der Server wird gefragt…

thumb-undo = Rückgängig
thumb-undo-key = Rück­gängig
thumb-undo-what = Rückgängig: {$what}
thumb-taken-back = Rückgängig gemacht: {$what}
thumb-camera = Kamera
thumb-back = Zurück
thumb-to-job = Zurück zum Schritt
thumb-try-again = Noch einmal versuchen
thumb-write-anyway = Trotzdem schreiben
thumb-change-it = Ändern
thumb-understood = Verstanden
thumb-nothing-next = Gerade nichts zu drücken

standing-later = später
standing-in-hand = in Arbeit
standing-done = erledigt
standing-skipped = übersprungen
standing-passed = nicht nach „Öffnen“

spine-label = Abschnitte
spine-knot = {$number} {$title}, {$standing}
spine-step = {$title}, {$standing}
spine-more = Mehr
spine-far = {$done} von {$all} Abschnitten

keypad-label = Zifferntasten
keypad-point = Komma
keypad-mark = ,
keypad-erase = löschen
keypad-thousand = drei Nullen
keypad-letters = Buchstabentasten
keypad-dash = Strich
keypad-space = Leerzeichen
keypad-names-minus = plus oder minus
keypad-names-above = mehr als
keypad-names-k = Kilo
keypad-names-m = Mega
keypad-keyboard = Die Tastatur des Telefons
keypad-less = weniger: {$what}
keypad-more = mehr: {$what}

first-run-hello = Ein Notizbuch für Getriebearbeit. Sechs Angaben, dann geht es los.
first-run-card = Die Maßkarte
first-run-card-why = Sie liegt in jedem Foto und gibt den Maßstab. Einmal drucken, mit 100 %.
first-run-begin = Anfangen
first-run-name-first = Zuerst der Name

tour-title = Ein Rundgang
tour-at = {$at} von {$all}
tour-next = Weiter
tour-end = Zu den Aufträgen
tour-leave = Beenden
tour-pages-1-title = Ein Schritt, ein Druck
tour-pages-1-text = Jeder Schritt zeigt, was zu tun und worauf zu achten ist. Die orange Taste unten ist das Nächste. Die Zeichnungen an der Seite sind die Abschnitte: Ein Druck führt hin, in jeder Reihenfolge.
tour-pages-2-title = Die Karte liegt in jedem Foto
tour-pages-2-text = Die Maßkarte mit 100 % drucken. Neben dem Abrieb gibt sie dem Foto seinen Maßstab. Die App zählt die Teilchen; korrigiert und bestätigt wird von Hand.
tour-pages-3-title = Messungen auf einem Blatt
tour-pages-3-text = Teile und Herstellergrenzen einmal benennen. Jede Messung sagt mit einem großen Wort, mit Ton und Vibration, was sie ergibt, und das nächste Teil steht bereit.
tour-pages-4-title = Sofort aufgeschrieben, immer rückgängig
tour-pages-4-text = Jeder Druck steht im Protokoll, bevor der Bildschirm es sagt, mit und ohne Empfang. „Rückgängig“ nimmt den letzten zurück. Am Ende wird daraus der unterschriebene Bericht für den Kunden.

settings-language = Sprache
settings-technician = Name, wie er im Bericht steht
settings-shop = Name der Werkstatt
settings-address = Adresse
settings-telephone = Telefon
settings-hand = Welcher Daumen drückt?
settings-hands-left = Linker
settings-hands-right = Rechter
settings-paper = Bildschirm
settings-papers-bay = dunkel
settings-papers-desk = hell
settings-glove = Handschuhe
settings-gloves-off = Bloße Hände
settings-gloves-on = Mit: größer
settings-meter = Das Messgerät
settings-sound = Nach einer Messung
settings-sounds-on = Ton und Vibration
settings-sounds-off = still
settings-guard = Wie sicher muss „in“ oder „außer Vorgabe“ sein?
settings-guard-explain = Ein Messwert nahe an einer Grenze, der weniger sicher ist, gilt als „zu knapp“. Üblich sind 95 %.
settings-guards-1-label = 50 %: ohne Abstand
settings-market = Wo wurden die Autos verkauft?
settings-markets-north-america = USA oder Kanada
settings-markets-elsewhere = anderswo
settings-markets-unknown = beides oder unbekannt
settings-keep = Speichern

files-title = Ein Export
files-explain = Alles darin, was diesem Gerät fehlt, wird importiert: Aufträge, Fotos, Kunden. Was schon da ist, bleibt wie es ist.
files-none = Es wartet nichts.
files-take-in = Importieren
files-came-in = { $lines ->
    [one] {$lines} Zeile
   *[other] {$lines} Zeilen
} und { $photos ->
    [one] {$photos} Foto
   *[other] {$photos} Fotos
} importiert.
files-unsigned = { $n ->
    [one] {$n} Zeile hat niemand unterschrieben: nichts zeigt, dass ihr Gerät sie schrieb.
   *[other] {$n} Zeilen hat niemand unterschrieben: nichts zeigt, dass ihre Geräte sie schrieben.
}
files-lies = Die Datei liegt hier: {$place}
files-card = masskarte.pdf
files-checker = bericht-check.html
files-no-checker = Die Seite, die einen Bericht prüft, ist in dieser App nicht enthalten.
files-ask-hub = Der Server der Werkstatt zeigt sie unter /verify.

units-label = Welche Einheiten?
units-of-distance = Fahrstrecke
units-of-temperature = Temperatur
units-of-torque = Drehmoment
units-of-volume = Öl
units-of-length = Länge der Schrauben

jobs-label = Aufträge
jobs-count = { $n ->
    [one] {$n} Auftrag
   *[other] {$n} Aufträge
}
jobs-new-job = Neuer Auftrag
jobs-more = Mehr
jobs-find = Suchen
jobs-search = Auftrag suchen
jobs-search-hint = Kennzeichen, Auto, Kunde
jobs-untitled = Noch kein Kennzeichen
jobs-empty-title = Das Buch ist leer.
jobs-empty-text = Ein Auftrag beginnt mit dem Auto auf der Bühne: Kennzeichen, Beanstandung, Fehlercodes. Dann führt das Buch durch Ölwanne, Prüfungen und Bericht, eines nach dem anderen.
jobs-empty-next = Nichts braucht Empfang. Jeder Druck ist sofort aufgeschrieben und lässt sich immer zurücknehmen.
jobs-none-found = Kein Auftrag passt zu „{$search}“.

job-one = Auftrag
job-demo = erfundene Vorführung
job-notebook = Notizbuch
job-steps = Schritte: {$stage}
job-step-of = Schritt {$at} von {$all}
job-finished = Alles ist erledigt oder übersprungen. Der Bericht steht unter „Mehr“.

step-caution = Vorsicht
step-tick = Abhaken: {$title}
step-to-hand = Zum Schritt in Arbeit: {$title}
step-is-done = Erledigt.
step-not-yet = Noch nicht: siehe oben
step-is-skipped = Übersprungen: {$reason}
step-is-passed = Es wurde entschieden, das Getriebe zu öffnen: dieser Schritt wird nicht mehr verlangt, lässt sich aber machen.
step-why = Warum?
step-note = Notiz
step-leave-out = Überspringen, mit Grund
step-leave-out-title = Überspringen: {$title}
step-leave-out-with = Überspringen: {$reason}
step-leave-out-because = Oder überspringen, denn:
step-reason = Warum übersprungen
step-reason-first = Zuerst der Grund
step-reasons-1 = hat dieses Auto nicht
step-reasons-2 = der Kunde will es nicht
step-reasons-3 = die Herstellerdaten sagen es anders
step-reasons-4 = schon gemacht
step-reasons-5 = nicht erreichbar
step-reasons-6 = beim nächsten Besuch
step-not-now = Zurück zum Schritt

note-title = Notiz zu: {$step}
note-text = In eigenen Worten
note-who = Wer liest das?
note-whos-report = Im Bericht
note-whos-private = Nur Werkstatt
note-keep = Notiz schreiben
note-first = Zuerst der Text

more-title = Mehr
more-jobs = Alle Aufträge
more-hand = Zurück zum Schritt
more-pan = Ölwanne und Verschleiß
more-parts = Ausgebaute Teile
more-bench = Elektrische Teile
more-photos = Fotos
more-log = Das ganze Protokoll
more-report = Der Bericht
more-customer = Die Antwort des Kunden
more-reports = { $n ->
    [0] noch nicht erstellt
   *[other] {$n} erstellt
}
more-card = Die Maßkarte zum Drucken
more-checker = Die Seite, die einen Bericht prüft
more-everything = Alles von hier in einer Datei
more-settings = Name, Sprache, Hand, Bildschirm
more-procedures = Arbeitsabläufe
more-record = Wie oft die Maschine recht hatte
more-sync = Server der Werkstatt

log-machine = Die Maschine:{" "}
log-taken-back = rückgängig gemacht
log-unsigned = nicht unterschrieben
log-take-back = Diese Zeile rückgängig machen
log-take-back-short = Rückgängig
log-redo = Diese Zeile wiederherstellen
log-redo-short = Wiederherstellen
log-keep-it = Abbrechen
log-choose = Rückgängig: {$what}
log-choose-redo = Wiederherstellen: {$what}
log-short = { $lines ->
    [one] {$lines} Zeile
   *[other] {$lines} Zeilen
}, zuletzt: {$last}, {$at}
log-reason = Warum (darf leer bleiben)

want-several = Mehreres kann zutreffen: jedes drücken, dann schreiben.
want-what-it-is = Was es ist
want-say-what = Sagen, was es ist
want-label-car = Das Auto
want-label-complaint = Die Beanstandung
want-label-codes-before = Codes bei Ankunft
want-label-codes-after = Codes nach der Arbeit
want-label-go-ahead = Freigabe
want-label-parts-off = Ausgebaute Teile
want-label-parts-back = Wieder eingebaut
want-label-census = Die Zählungen
want-label-components = Elektrische Teile
want-label-explains = Was es erklärt
want-label-decision = Entscheidung
want-label-replace = Ersetzt: {$what}
want-label-tighten = Angezogen: {$what}
want-label-report = Der Bericht
want-label-answer = Die Antwort des Kunden
want-row = {$label}: {$state}
want-have = steht da
want-missing = zu tun
want-optional = freiwillig
want-choose = Eine der Tasten drücken
want-enter = {$label}: eingeben
want-write = Schreiben: {$what}
want-offers = {$label}: Tasten
timed-start = Uhr starten
timed-stop = Uhr anhalten
want-enough = Das sind alle

photo-take = Foto: {$label}
photo-another = Noch ein Foto: {$label}
photo-open = Foto öffnen: {$what}
photo-again = Neu aufnehmen
photo-again-short = Noch mal
photo-taken-again = neu aufgenommen
photo-none = Noch kein Foto.

camera-title = Kamera: {$subject}
camera-live = Was die Kamera sieht
camera-still = Das Foto, wie aufgenommen
camera-held = Dieses Foto ist nur auf dieser Seite, bis es behalten ist: Neu laden oder Schließen verliert es.
camera-shoot = Foto aufnehmen
camera-opening = Kamera wird geöffnet…
camera-keep = Dieses Foto behalten
camera-try-again = Kamera noch einmal versuchen
camera-refused = Die Kamera in der App lässt sich nicht öffnen. In den Einstellungen des Telefons oder des Browsers erlauben oder eine der beiden Tasten unten nehmen.
camera-file = Fotodatei
camera-system = Kamera des Telefons
camera-torch = Licht
camera-itself = Automatisch
camera-told = Auf Druck
camera-advice-good = Gut: stillhalten
camera-advice-dark = Zu dunkel: Licht holen
camera-advice-glare = Spiegelung: Licht zur Seite
camera-advice-no-card = Die ganze Maßkarte zeigen
camera-advice-tilted = Gerade darüber halten
camera-advice-far = Näher heran
camera-advice-blurred = Unscharf: stillhalten
camera-lift-top = Oberkante anheben
camera-lift-right = Rechte Kante anheben
camera-lift-bottom = Unterkante anheben
camera-lift-left = Linke Kante anheben
camera-loud = Ton an
camera-silent = Ton aus
camera-doing-1 = Foto ablegen
camera-doing-2 = Karte, Teilchen und ihre Art finden
camera-figures = {$tilt}° schräg, {$pxPerMm} px/mm
camera-hold = Von der Seite: das Telefon waagerecht darüber, die Maßkarte auf gleicher Höhe.
camera-how-patch = Gerade von oben, die Maßkarte daneben, keine Spiegelung.
camera-how-patch-after-magnet = Dieselbe Stelle, nach dem Magneten; die Maßkarte daneben.
camera-how-pan = Gerade von oben, nichts abgewischt, die Maßkarte darin.
camera-how-magnet = Wie er sitzt, vor dem Abwischen; wenn Platz ist, die Maßkarte auf seiner Höhe.
camera-how-place = So, dass es jemand anders wieder einbauen könnte.

stray-title = Von der Kamera des Telefons
stray-waits = { $n ->
    [one] {$n} Foto
   *[other] {$n} Fotos
} der Telefonkamera kam in keinen Auftrag, weil die App inzwischen geschlossen wurde. Den Auftrag öffnen, dann Mehr.
stray-explain = Die Kamera des Telefons hat es aufgenommen ({$when}), und die App wurde inzwischen geschlossen. Gehört es zu diesem Schritt?
stray-torn = Die Kamera des Telefons hat eine Datei hinterlassen ({$when}), die kein ganzes Foto ist. Noch einmal aufnehmen.
stray-picture = Das Foto von {$when}
stray-subject = Was es zeigt
stray-leave = Dieses Foto weglassen
stray-leave-short = Weglassen
stray-leaving = Es kommt dann in keinen Auftrag, und nach ihm wird nicht mehr gefragt.
stray-really-leave = Endgültig weglassen
stray-keep-after-all = Doch nicht weglassen
stray-keep-short = Abbrechen
stray-later = Später
stray-none = Hier wartet kein Foto.

car-plate = Kennzeichen
car-description = Das Auto
car-description-hint = Farbe, Bauart, Getriebe
car-vin = FIN (VIN)
car-odometer = Kilometerstand
car-changed = Letzter Ölwechsel bei (leer: weiß niemand)
car-owner = Halter
car-contact = Telefon oder E-Mail
car-plate-first = Zuerst Kennzeichen oder FIN
car-odometer-next = Jetzt der Kilometerstand

gearbox-unit = Das Getriebe darin
gearbox-units-original = das erste
gearbox-units-rebuilt = überholt
gearbox-units-new = ein anderes, neu
gearbox-units-used = ein anderes, gebraucht
gearbox-units-unknown = nicht bekannt
gearbox-unit-at = Eingebaut bei (Kilometerstand)
gearbox-first = Sein erster Service?
gearbox-firsts-yes = ja
gearbox-firsts-no = nein
gearbox-firsts-unknown = nicht bekannt
gearbox-wiped = Beim letzten Service Wanne ab und Magnete gewischt?
gearbox-wipeds-yes = ja
gearbox-wipeds-no = nein
gearbox-wipeds-never = nie ab
gearbox-wipeds-unknown = nicht bekannt

meter-own = eigenes Gerät
meter-by-leaflet = Genauigkeit eingeben
meter-explain = Aus der Anleitung: ± (Prozent vom Messwert + Digits der letzten Stelle).
meter-percent = Prozent vom Messwert
meter-counts = Digits
meter-take = Dieses Gerät: ±{$percent} % + {$counts}

tools-title = Nummern der Werkzeuge
tools-explain = Danach fragt ein Gutachter. Jede wird einmal gefragt und steht im Anhang des Berichts; was leer ist, gilt dort als „nicht angegeben“.
tools-clamp = Stromzange
tools-wrench = Drehmomentschlüssel
tools-serial = Seriennummer: {$name}
tools-calibrated = Kalibriert am: {$name}
tools-card-line = Die Linie von 150 mm auf dem Blatt der Maßkarte, wie sie nachgemessen ist
tools-card-day = Nachgemessen am
instruments-title = Messmittel
instruments-explain = Wie ein Bericht sie bei jeder Messung nennt. Was hier nicht angegeben ist, steht auch dort so.
instruments-serial = Seriennummer
instruments-calibrated = Kalibriert am
instruments-not-stated = nicht angegeben
instruments-card = Maßkarte
instruments-card-line = Linie von 150 mm
instruments-change = In den Einstellungen ändern

trend-plot = Teilchen auf 10.000 km bei jedem Besuch, mit 90-%-Bereichen
trend-axis = Verschleißteilchen auf 10.000 km; gefüllt: dieser Besuch.
trend-now = jetzt
trend-visits = Besuche, der älteste zuerst

vin-scan = FIN: Strichcode lesen
vin-file = FIN: aus einer Fotodatei
vin-from-photo = FIN aus dem Foto von hier
vin-read = Aus {$format} gelesen: {$vin}. Mit dem Auto vergleichen.

complaint-words = In den Worten des Kunden
complaint-what = Was macht es?
complaint-when = Wann zeigt es sich?
complaint-keep = Beanstandung schreiben
complaint-first = Zuerst der Text

codes-label = Gelesene Codes
codes-state = Gespeichert oder vorläufig
codes-states-stored = gespeichert
codes-states-pending = vorläufig
codes-state-keys-pending = Vorläufig
codes-state-keys-stored = Gespeichert
codes-state-all = Gespeichert oder vorläufig, und kein anderer Code
codes-state-all-keys-pending = Vorläufig, kein anderer Code
codes-state-all-keys-stored = Gespeichert, kein anderer Code
codes-typing = Der Code, der getippt wird
codes-pad = Code-Tasten
codes-remove = {$code} entfernen
codes-take-out = entfernen
codes-status = ändern
codes-status-of = Statusbyte von {$code}
codes-bits-of = Statusbits von {$code}
codes-no-status = Kein Status
codes-or-tap = oder die gesetzten Bits antippen:
codes-bits-1 = Fehler jetzt
codes-bits-2 = Fehler in diesem Zyklus
codes-bits-3 = vorläufig
codes-bits-4 = bestätigt
codes-bits-5 = seit dem Löschen nicht geprüft
codes-bits-6 = Fehler seit dem Löschen
codes-bits-7 = in diesem Zyklus nicht geprüft
codes-bits-8 = Warnleuchte
codes-in-bytes = Code als Hex
codes-in-letters = Code als Buchstabe und Ziffern
codes-take-bytes = {$bytes} nehmen
codes-failure-type = Fehlerart von {$code}
codes-finish = {$typing} fertig tippen…
codes-none-key = Keine Codes gesetzt
codes-none = Schreiben: keine Codes gesetzt
codes-first = Ein Code, oder „Keine Codes gesetzt“
codes-state-first = Gespeichert oder vorläufig?
codes-write = Schreiben: { $n ->
    [one] {$n} Code
   *[other] {$n} Codes
}

go-ahead-ways-in-person = {$who}, persönlich
go-ahead-ways-phone = {$who}, am Telefon
go-ahead-ways-message = {$who}, schriftlich
go-ahead-other = Wer, falls jemand anderes
go-ahead-amount = Anderer Betrag
go-ahead-by = Wer hat zugestimmt
go-ahead-customer = der Kunde
go-ahead-amounts = Runde Beträge
go-ahead-how = Wie
go-ahead-hows-in-person = Persönlich
go-ahead-hows-phone = Am Telefon
go-ahead-hows-message = Schriftlich
go-ahead-limit = So viel darf es höchstens kosten, ehe neu gefragt wird
go-ahead-currency = Währung
go-ahead-whos = Wer zugestimmt hat, zur Wahl
go-ahead-who-first = Wer hat zugestimmt?
go-ahead-how-first = Wie wurde zugestimmt?
go-ahead-limit-first = Bis wie viel, oder ohne Grenze?
go-ahead-limits = Grenze
go-ahead-no-limit-key = Keine Grenze vereinbart
go-ahead-up-to = Schreiben: {$who}, bis {$amount}
go-ahead-no-limit = Schreiben: {$who}, ohne Grenze

parts-label = Ausgebaute Teile
parts-item = Was kam heraus
parts-items-1 = Schrauben M6
parts-items-2 = Schrauben M8
parts-items-3 = Schrauben
parts-items-4 = Muttern
parts-items-5 = Blechschrauben
parts-items-6 = Strebe
parts-items-7 = Abdeckung
parts-items-8 = Halter
parts-items-9 = Hitzeblech
parts-items-10 = Klammer
parts-items-11 = Stopfen
parts-fasteners-1 = Schrauben
parts-fasteners-2 = Muttern
parts-fasteners-3 = Blechschrauben
parts-count = Wie viele
parts-count-keys = So viele
parts-size = Größe
parts-length = Länge
parts-place = Wo es wieder hinkommt
parts-places-1 = Ölwanne
parts-places-2 = vorn
parts-places-3 = hinten
parts-places-4 = links
parts-places-5 = rechts
parts-places-6 = Mitte
parts-photo = Foto der Stelle
parts-photo-of = {$what}, {$n}
parts-tap-places = { $n ->
    [0] Jede Stelle im Foto antippen.
    [one] {$n} Stelle angetippt.
   *[other] {$n} Stellen angetippt.
}
parts-last-place = Letzte Stelle wegnehmen
parts-off = Ausgebaut: {$what}
parts-change = {$what}: ändern
parts-item-first = Was kam heraus?
parts-count-first = Wie viele?
parts-place-first = Wo gehört es hin?
parts-enough-off = Mehr kam nicht heraus
parts-still-off = { $n ->
    [0] nichts ist ab
   *[other] {$n} noch ab
}
parts-nothing = Nichts wurde ausgebaut.
parts-standing-all-back = alles wieder drin
parts-standing-all-off = ausgebaut
parts-standing-some-off = {$off} von {$count} ausgebaut
parts-back = { $n ->
    [one] Eins wieder drin
   *[other] Alle {$n} wieder drin
}
parts-back-name = { $n ->
    [one] Eins wieder drin
   *[other] Alle {$n} wieder drin
}: {$what}
parts-lost = Verloren oder kaputt
parts-lost-how = Was damit geschah
parts-write-lost = Schreiben: eins verloren
parts-later-back = Weiter, {$n} noch ausgebaut
parts-put-back = {$n} noch ausgebaut
parts-all-back = Alles ist wieder drin

bench-label = Elektrische Teile
bench-kind = Was ist es?
bench-kind-first = Was ist es?
bench-poles = Sein anderer Pol
bench-by-case-case = Masse über das Gehäuse (eine Ader)
bench-name = Name im Schaltplan des Herstellers
bench-names = Namen zur Wahl
bench-name-first = Welches ist es?
bench-named = Sein Name: {$name}
bench-change = {$what}: ändern
bench-suggest-temperature = Öltemperatur
bench-suggest-input-speed = Eingangsdrehzahl
bench-suggest-output-speed = Ausgangsdrehzahl
bench-suggest-solenoid = Magnetventil {$letter}
bench-connector = Stecker: Farbe oder Zeichen
bench-number = Teilenummer
bench-codes = Codes, die es nennen
bench-low = Grenze von
bench-high = Grenze bis
bench-at = bei
bench-source = Wo die Grenzen stehen
bench-source-hint = Herstellerhandbuch, Seite…
bench-sources = Wessen Daten
bench-source-keys-1 = Herstellerhandbuch
bench-source-keys-2 = Herstellerdaten
bench-source-keys-3 = Datenblatt des Teils
bench-sets = Teile eines Getriebes, das schon hier war
bench-parts-of = {$name}: { $n ->
    [one] {$n} Teil
   *[other] {$n} Teile
}
bench-keep-set = Diese Teile für das nächste gleiche behalten
bench-set-name = Wie heißt dieses Getriebe?
bench-keep-set-as = Behalten als: {$name}
bench-forget-set = Teile von {$name} vergessen
bench-more-like = Weitere wie {$name}, und dann andere
bench-all-like = So viele insgesamt, alle wie {$name}, und kein anderes Teil
bench-code-names = {$code} benennt (Herstellerdaten)
bench-one-more = {$name}, wie {$like}
bench-source-first = Wo stehen die Grenzen?
bench-same-limits = Gleiche Grenzen wie {$name}: {$spec}
bench-write = Schreiben: {$name} und Grenzen
bench-write-bare = Schreiben: {$name}, ohne Grenzen
bench-enough = Das sind alle: { $n ->
    [one] {$n} Teil
   *[other] {$n} Teile
}
bench-replaced = ersetzt
bench-no-spec = keine Grenzen eingegeben
bench-how = So wurde gerechnet
bench-nothing = Noch kein elektrisches Teil benannt.
bench-to-readings = Zu den Messungen

limits-of = Grenzen für
limits-of-what = Grenzen für: {$what}
limits-at-keys = Temperatur, bei der die Grenzen gelten
limits-at-unsaid = Keine angegeben
limits-at-assumed = Dann wird etwa {$at} angenommen, und das Urteil ist weniger sicher.
limits-at-first = Bei welcher Temperatur gelten sie?
limits-form = So gibt sie der Hersteller an
limits-forms-range = Bei einer Temperatur
limits-forms-table = Eine Tabelle
limits-forms-b-value = Ein B-Wert
limits-row = Zeile {$n} der Tabelle
limits-celsius = Bei
limits-more-rows = Noch eine Zeile (kalt nach heiß)
limits-tolerance = Toleranz
limits-b = B-Wert
limits-ohms = Widerstand
limits-least = Mindestens
limits-more = mehr Grenzen
limits-more-of = Mehr Grenzen: {$name}
limits-no = Keine weiteren Grenzen

readings-samples = Ablesungen
readings-typed = Was das Messgerät zeigt
readings-display = Messgerät ablesen
readings-display-title = Die Anzeige des Messgeräts wird abgelesen
readings-display-live = Was die Kamera sieht
readings-display-unit = Die Einheit der Anzeige
readings-display-unit-first = Welche Einheit zeigt die Anzeige?
readings-display-unit-check = Die Einheit wird nicht gelesen: mit der Anzeige vergleichen.
readings-display-write = {$value} schreiben
readings-display-hold = Anzeige in den Rahmen
readings-display-still = Ruhig halten …
readings-display-written = Geschrieben. Wartet auf die nächste Zahl.
readings-display-none = Keine Anzeige zu sehen. Den Rahmen damit füllen.
readings-display-cut-off = Die ganze Anzeige ins Bild nehmen.
readings-display-too-small = Näher heran.
readings-display-doubtful = Nicht sicher: Spiegelung meiden, gerade darüber halten.
readings-display-no-number = Die Anzeige zeigt keine Zahl.
readings-display-keys = Zifferntasten
readings-display-opening = Kamera öffnet …
readings-display-refused = Die Kamera lässt sich nicht öffnen: die Zahl eingeben. In den Einstellungen des Telefons oder des Browsers lässt sie sich erlauben.
readings-display-unable = Dieses Gerät kann die Anzeige nicht ablesen: die Zahl eingeben.
readings-part = Die Temperatur des Teils
readings-field-leads = Leitungen {$value} Ω
readings-field-leads-unknown = Leitungen: unbekannt
readings-field-part = Teil {$value} {$degrees}
readings-field-part-unknown = Teil: {$degrees} unbekannt
readings-field-top = Gerät endet bei {$value} Ω
readings-field-top-unknown = Gerät endet bei: unbekannt
readings-field-volts = Prüfer mit {$value} V
readings-field-volts-unknown = kein Isolationsprüfer
readings-field-applied = {$value} V am Teil
readings-field-applied-unknown = Spannung am Teil: nicht gemessen
readings-from = Wo wurde diese Temperatur gemessen?
readings-froms-probe-at-part = Fühler am Teil (± 1 K)
readings-froms-infrared = Infrarot (± 3 K)
readings-froms-scan-data = Diagnosegerät (± 3 K)
readings-froms-surroundings = Luft darum (± 3 K)
readings-from-first = Wo wurde sie gemessen?
readings-tester-caution = Steuergerät und alle Sensoren abstecken, bevor ein Isolationsprüfer etwas berührt.
readings-contact = Kontakt gezeigt durch
readings-contact-why = Eine abgerutschte Prüfspitze ist der häufigste falsche Leerlauf. Erst zeigen, dass die Leitungen Kontakt haben, dann zählt ein Leerlauf.
readings-contact-by-leads = ✓ Kontakt: Spitzen zusammen
readings-contact-by-sibling = ✓ Kontakt: {$name} gemessen
readings-contact-by-ticked = ✓ Kontakt gezeigt
readings-contact-by-not = Kontakt: nicht gezeigt
readings-contact-keys-leads = Spitzen zusammengehalten: Anzeige eingeben
readings-contact-keys-sibling = {$name}, mit diesen Leitungen gemessen
readings-contact-keys-ticked = Gezeigt, ohne Zahl
readings-contact-keys-not = Nicht gezeigt
readings-applied-first = Spannung an {$name}
readings-applied-caution = Über eine Sicherung, richtig gepolt, nicht länger, als der Hersteller erlaubt. Nichts an Elektronik.
readings-by = Strom gemessen mit
readings-by-first = Womit wird der Strom gemessen?
readings-bys-meter = Gerät in Reihe
readings-bys-clamp = Zange
readings-click = Klicken
readings-clicks-heard = Klicken gehört
readings-clicks-none = Kein Klicken
readings-leads-keys = Spitzen zusammengehalten, Ω
readings-leads-unknown = Weiter, Leitungen unbekannt
readings-meter = Messgerät
readings-meter-first = Welches Messgerät?
readings-meter-says = {$name} (±{$percent} % + {$counts})
readings-take = {$value} nehmen
readings-write = Schreiben: {$samples}
readings-same-again = Noch einmal {$value}
readings-drop = Ablesung {$sample} entfernen
readings-to-samples = Jetzt die Ablesung
readings-first = {$name} messen
readings-next = Weiter: {$name}
readings-enough = Das sind alle Messungen
readings-parts-first = Zuerst die Teile benennen
readings-no-parts = Noch kein elektrisches Teil benannt. Das ist der Schritt davor.
readings-sheet = Teile und ihre Messwerte
readings-row = {$name}: {$says}
readings-steady = {$value}, dreimal gleich
readings-jumps = Es springt: {$value} merken und noch einmal sehen
readings-near = Dreimal gleich, nahe an gleichen Teilen
readings-alike = Dreimal gleich
readings-as-before = {$value} dreimal, wie {$name}
readings-all-open = Alle {$n} zeigen OL gegen Masse
readings-all-open-done = Alle {$n} zeigen OL gegen Masse: fertig
readings-plot = {$value}: {$verdict}

harness-title = Leitungen: {$part}
harness-drawing = Vom Steuergerät links zum Teil rechts, Masse unten.
harness-how = Von Pin zu Pin und von jedem Pin nach Masse, auf beiden Seiten: das zeigt, welches Stück offen oder kurzgeschlossen ist oder zu viel Widerstand hat.
harness-caution = Zündung aus, Steuergerät abgezogen. Von hinten in den Stecker oder mit dem passenden Stift messen: eine breite Spitze weitet den Kontakt.
harness-control = Am Stecker des Steuergeräts, das Teil angesteckt
harness-part = Das Teil allein, abgesteckt
harness-wires = Jede Leitung von Ende zu Ende, beide Seiten abgesteckt
harness-looks-c = Pin {$first} zu Pin {$second}
harness-looks-c1 = Pin {$first} nach Masse
harness-looks-c2 = Pin {$second} nach Masse
harness-looks-p = Das Teil, Pin zu Pin
harness-looks-p1 = Das Teil, Pin {$first} nach Masse
harness-looks-p2 = Das Teil, Pin {$second} nach Masse
harness-looks-w1 = Leitung von Pin {$first}
harness-looks-w2 = Leitung von Pin {$second}
harness-looks-leads = Messleitungen zusammengehalten
harness-blank = – Ω
harness-pin = Name von Pin {$n} im Plan
harness-next = Weiter: {$look}
harness-first = Messen: {$look}
harness-write = Schreiben: { $n ->
    [one] {$n} Zahl
   *[other] {$n} Zahlen
}
harness-open = Die Leitungen von {$part}

explains-read = Gesehen
explains-not-yet = Noch nichts abzuwägen
explains-nothing = Noch kein Code und kein Messwert, der zur Beanstandung passen könnte.

tighten-torque = Anzugsdrehmoment nach Herstellerdaten
tighten-torque-first = Das Drehmoment, oder nach Gefühl
tighten-how = Wie
tighten-hows-feel = Von Hand, nach Gefühl
tighten-hows-angle = Drehmoment und Winkel
tighten-hows-by-hand = Alle von Hand angesetzt
tighten-angle = Dann weiter um
tighten-angle-first = Der Winkel
tighten-by-hand-then = Alle von Hand angesetzt, dann {$passes} Durchgänge
tighten-by-hand-first = „Alle von Hand angesetzt“ drücken, wenn es so ist
tighten-passes = Durchgänge
tighten-passes-first = Wie viele Durchgänge?
tighten-write = Schreiben: {$what} {$torque}

plan-show = Reihenfolge und Durchgänge
plan-picture = Anziehen über Kreuz, {$n} Schrauben, mit Nummern
plan-passes = Durchgänge, einer nach dem anderen abhaken
plan-bolts = Wie viele Schrauben
plan-more = Dazu
plan-mores-adapter = Adapter am Schlüssel
plan-mores-sealant = Dichtmasse, keine Dichtung
plan-lever = Schlüssel: Mitte Griff bis Vierkant
plan-length = Adapter: Vierkant bis Schraube
plan-angle = Wie der Adapter zum Schlüssel steht
plan-angles-0 = gerade
plan-angles-90 = rechtwinklig
plan-tool = Wie genau ist der Drehmomentschlüssel?
plan-tools-none = Keine Angabe
plan-tools-scale = Nach Skala
plan-tools-percent = Nach Prüfschein
plan-most = Seine Skala endet bei (ISO 6789)
plan-percent = Sein Prüfschein sagt
plan-is-instead = Es sind {$torque}
plan-is-sure = Es sind {$torque}, wie eingegeben
plan-doubt = Was gilt?

replace-component = Welches Teil
replace-what = Was ersetzt wurde
replace-number = Nummer des neuen Teils
replace-batch = Charge oder Datum
replace-old = Das alte Teil
replace-olds-kept = Für Kunden aufgehoben
replace-olds-not = Nicht aufgehoben
replace-write = Schreiben: {$what} ersetzt
replace-first = Was wurde ersetzt?
replace-whats = Ersetzt
replace-old-first = Wo ist das alte Teil?
replace-enough = Mehr wurde nicht ersetzt
replace-at-once = {$what} ersetzt
replace-at-once-kept = {$what} ersetzt, altes Teil aufgehoben
replace-at-once-not = {$what} ersetzt, altes Teil nicht aufgehoben

census-look-at = Ansehen: {$what}
census-enough = Alle Zählungen bestätigt
census-photos-first = Erst Fotos: Wanne, Magnete, Abstrich
census-no-photos = Noch kein Foto von Ölwanne, Magnet oder Abstrich.
census-not-read = Noch nicht ausgewertet.
census-confirmed = ✓ Bestätigt.
census-not-confirmed = ○ Noch nicht bestätigt.

decision-label = Was entschieden ist
decision-choices-carry-on = Die Arbeit beenden
decision-choices-watch = Beobachten
decision-choices-test-first = Erst prüfen
decision-choices-open-up = Öffnen
decision-tests = Als Nächstes:
decision-advises = Rat:
decision-so-far = Nach bisheriger Zählung:
decision-confirm-first = Zuerst bestätigen: {$what}
decision-take = Entscheiden: {$choice}
decision-overrule = Gegen den Rat: {$choice}
decision-reason = Warum anders entschieden wird
decision-reason-first = Zuerst der Grund
decision-reasons-1 = der Kunde will es so
decision-reasons-2 = Abrieb stammt von früherer Reparatur
decision-reasons-3 = selbst gesehen: in Ordnung
decision-reasons-4 = mehr, als das Foto zeigt
decision-choose = Wie wird entschieden?
decision-not-yet = Noch nichts abzuwägen: erst eine Zählung bestätigen.
decision-was = Entschieden: {$what}

pan-table = Gewichte: {$name}
pan-gauge = Stufe {$numeral}, {$band}. Verschleißwert {$score}, zwischen {$lo} und {$hi}.
pan-score = Verschleißwert {$score} ({$lo} bis {$hi}) von 100
pan-reasons = Gründe, die schwersten zuerst
pan-share = {$share} %
pan-more = { $n ->
    [one] 1 weiterer Grund
   *[other] {$n} weitere Gründe
}
pan-basis = Worauf das beruht
pan-photo = Foto
pan-see-photo = Foto dazu: {$reason}
pan-missing = Noch nicht bekannt:
pan-nothing = Noch nichts gezählt. Der Verschleißwert kommt aus den Fotos von Ölwanne, Magneten und Abstrich.

review-all = Alle Teilchen
review-read = Dieses Foto auswerten
review-stand-by = { $n ->
    [one] {$n} Teilchen
   *[other] {$n} Teilchen
} bestätigen
review-piece = Teilchen {$number} von {$of}
review-previous = Voriges Teilchen
review-next = Nächstes Teilchen
review-close = Teilchen schließen
review-what-is-it = Was ist es?
review-not-debris = kein Abrieb
review-redrawn = Umriss vom Techniker.
review-two = Trennen
review-cut = Teilen
review-join = Verbinden
review-cut-ask = Auf der einen Seite des Teilchens tippen, dann auf der anderen.
review-join-ask = Das andere Teilchen antippen.
review-leave-it = Abbrechen
review-same-place = Zu welchem Foto es gehört
review-same-place-ask = Was zwei Fotos einer Stelle zeigen, zählt einmal. Was ein Magnet mitnahm, ist Stahl.
review-alone = Es gibt kein früheres Foto, zu dem dieses gehören könnte.
review-machine-said = Die Maschine sagte: {$what}.
review-likely = {$p} % sicher
review-tabs = Zu diesem Foto
review-panels-1-label = Arten
review-panels-2-label = Größen
review-panels-3-label = Grenzen
review-panels-4-label = Gleiche Stelle
review-panels-5-label = Maßstab setzen
review-filter-class = Nur diese Arten zeigen
review-filter-size = Nur diese Größen zeigen
review-show-all = Wieder alle zeigen
review-count = {$n} ({$lo} bis {$hi})
review-no-sizes = Keine Größen ohne Maßstab.
review-below-seen = * So kleine Teilchen sind auf diesem Foto nicht alle zu sehen.
review-scale = Maßstab:
review-cannot = Was dieses Foto nicht zeigen kann
review-zoom = Vergrößern
review-out = Verkleinern
review-gestures = Zwei Finger vergrößern. Ein Finger verschiebt, wenn vergrößert ist. Gedrückt halten: keine Umrisse.

how-to-title = Abrieb fotografieren
how-to-steps-1-title = Dünn verteilen
how-to-steps-1-text = Den Rückstand auf weißes, fusselfreies Papier gießen oder wischen. Keine Haufen: Teilchen, die aufeinander liegen, zählen als eines.
how-to-steps-2-title = Die Maßkarte daneben legen
how-to-steps-2-text = Flach, sauber, auf gleicher Höhe, die ganze Karte im Bild. Sie gibt Maßstab, Lage und Weiß.
how-to-steps-3-title = Das Telefon waagerecht darüber halten
how-to-steps-3-text = Eine Handlänge hoch, Licht von der Seite, kein Glanz. Der Pfeil zeigt, welche Kante höher muss.
how-to-legend = Was die Teilchen sind
how-to-meanings = Übliche Praxis, keine veröffentlichte Quelle. Das Verfahren des Herstellers geht vor.

tray-how = Tippen: stimmt. Halten: im Foto zeigen. %: wie sicher.
tray-heaps-grave = Wiegen am schwersten
tray-heaps-doubtful = Unsicher
tray-heaps-sure = Sicher
tray-heaps-not-debris = Kein Abrieb
tray-confirmed = Bestätigt
tray-rest = { $left ->
    [0] Alle {$all} bestätigen
   *[other] Der Rest stimmt: {$left}
}
tray-none = { $n ->
    [one] Bestätigen: kein Abrieb
   *[other] Bestätigen: keines dieser {$n} ist Abrieb
}
tray-all-kinds = Alle Arten
tray-in-photo = Im Foto
tray-to-photo = Das Foto
tray-to-tray = Die Schale
tray-legend = Legende
tray-letters = Buchstaben
tray-more-keys = Mehr
tray-less-keys = Weniger
tray-lost = Das Foto lässt sich hier nicht zeigen; die Zahlen gelten.

help-label = Was angetippt wird
help-taps = Bekannte Länge
help-magnet = Der Magnet
help-drop = Öltropfen
help-ask-taps = Die beiden Enden von etwas antippen, dessen Länge bekannt ist: Schraubenkopf, Lineal.
help-ask-subject = Die Mitte der Magnetfläche antippen.
help-ask-fluid = Die Mitte des Öltropfens antippen.
help-known = Bekannte Längen
help-lengths-8 = Kopf 8 mm
help-lengths-10 = Kopf 10 mm
help-lengths-13 = Kopf 13 mm
help-lengths-50 = Lineal 50 mm
help-length = Länge zwischen den Punkten
help-where = Die Punkte liegen
help-wheres-ground = auf dem Grund
help-wheres-subject = auf dem Magneten
help-read-again = Damit neu auswerten
help-not-yet-subject = Den Magneten antippen
help-not-yet-fluid = Den Tropfen antippen
help-not-yet-taps = { $taps ->
    [0] Ein Ende antippen
    [one] Das andere Ende antippen
   *[other] Wie lang ist es?
}

report-look = Bericht ansehen
report-explain = Er wird durchgelesen, ehe er erstellt wird. Was erstellt ist, ist unterschrieben und ändert sich nicht mehr.
report-make = Bericht erstellen
report-again = Neu schreiben
report-made = Der Bericht ist erstellt.
report-given-answer = {$title}. {$asked}:
report-save = Datei speichern
report-save-pdf = Als PDF speichern, zum Drucken
report-share = Bericht senden
report-frame = Der Bericht
report-leave-out = In dieser Kopie weglassen
report-leave-outs-customer = Name des Kunden
report-leave-outs-car = Kennzeichen und FIN
report-leave-out-note = Fotos bleiben, wie sie sind: sehen Sie nach, ob eines einen Namen oder ein Kennzeichen zeigt.
report-named-texts = Diese eingegebenen Texte enthalten es. Keiner wird teilweise geändert.
report-holds-name-goes = Enthält „{$holds}“: bleibt ganz weg.
report-holds-name-stays = Enthält „{$holds}“: bleibt, wie er ist.
report-word-texts = Texte mit nur einem Wort des Namens
report-word-text-choices-leave = Ganz weglassen
report-word-text-choices-keep = Behalten: dort kein Name
report-reads = Der Kunde liest

costs-open = Preise eintragen (freiwillig)
costs-explain = Was jedes kostet, im Brief und auf der Seite für den Kunden. Was leer bleibt, gilt als „nicht angegeben“.
costs-added = Zusatz zum Preis für: {$what}
costs-added-hint = mit Steuer, ohne Teile
costs-keep = Preise speichern

reports-title = Erstellte Berichte
reports-list = Bisher erstellt: { $n ->
    [one] {$n} Bericht
   *[other] {$n} Berichte
}
reports-back = Zurück zum Bericht
reports-form-page = als Seite
reports-form-paper = für Papier
reports-shared = dem Kunden gezeigt
reports-stands = Er gilt.
reports-superseded = Ersetzt durch den Bericht von {$when}.
reports-withdrawn = Zurückgezogen {$when}: {$reason}
reports-withdraw = Zurückziehen
reports-withdraw-now = Jetzt zurückziehen
reports-reason = Warum? Das liest der Kunde.

customer-explain = Ein Link nur für diesen Kunden. Er öffnet den Bericht auf dem Server der Werkstatt; dort antwortet der Kunde auf jeden Rat. Der Link wird einmal gezeigt.
customer-link = Link erzeugen
customer-to-links = Zum Link
customer-ask = Der Kunde antwortet im Bericht selbst auf jeden Rat: einverstanden, abgelehnt oder Rückfrage.
customer-later = Die Antwort kommt später
customer-another = Noch einen Link erzeugen
customer-days = Offen für
customer-day-choices-1-label = 7 Tage
customer-day-choices-2-label = 30 Tage
customer-day-choices-3-label = 90 Tage
customer-code = Code verlangen
customer-code-choices-no = Ohne Code
customer-code-choices-yes = Code am Telefon
customer-shown = Den Kunden scannen lassen oder senden.
customer-qr = Der Link als QR-Code
customer-tell = Diesen Code am Telefon sagen: {$code}
customer-made = Erzeugt {$when}.
customer-until = Offen bis {$day}.
customer-copy = Link kopieren
customer-copied = Kopiert.
customer-sync = Der Server braucht den Auftrag, ehe der Link aufgeht: jetzt abgleichen.
customer-open = Offene Links
customer-close = Schließen
customer-closing = Link wird geschlossen…
customer-none = Noch keine Antwort.
customer-by = {$name}, {$when}
customer-says-answers = { $answers ->
    [one] {$answers} Antwort
   *[other] {$answers} Antworten
}
customer-says-no-answer = noch keine Antwort
customer-says-not-asked = noch nicht gefragt

sync-explain = Die Werkstatt hat einen eigenen Server. Er zeigt ein Bild für die Kamera dieses Telefons, dazu Adresse, Einmalcode und Fingerabdruck: einmal eingeben, dann kennen sich beide.
sync-is-hub = Das ist der Server selbst: was hier geschrieben wird, steht sofort im Buch.
sync-show-code = Einmalcode zeigen
sync-phones-pair = Telefone melden sich mit seiner Adresse und dem gezeigten Einmalcode an.
sync-address = Adresse
sync-address-hint = https://…
sync-code = Einmalcode
sync-fingerprint = Fingerabdruck seines Zertifikats
sync-fingerprint-hint = die ersten 20 Ziffern
sync-first = Zuerst Adresse und Code
sync-pair = Beim Server anmelden
sync-now = Jetzt abgleichen
sync-other = Bei anderem Server anmelden
sync-hub = Angemeldet bei {$address}.
sync-last = Letzter Abgleich: {$when}.
sync-never = Noch kein Abgleich.
sync-waiting-none = Der Server hat alles.
sync-waiting = Es warten: { $lines ->
    [one] {$lines} Zeile
   *[other] {$lines} Zeilen
}, { $photos ->
    [one] {$photos} Foto
   *[other] {$photos} Fotos
}.

record-by-class = Nach der Art, die sie nannte
record-by-size = Nach Größe
record-calibrate = Die Arten in neuen Zählungen kalibrieren
record-calibrates-off = Nein
record-calibrates-on = Ja
record-repeats = Wie gut Fotos sich wiederholen
record-repeats-explain = Nach ISO 5725 aus Fotos eines Abstrichs, die dieselbe Stelle zeigen, wie die Maschine sie las, ohne Berichtigungen.

code-table-title = Worauf Codes zeigen
code-table-explain = Eine Tabelle verbindet Codes mit Arten von Teilen, damit ein Messwert zu einem Code passt. Eine Werkstatt kann eigene Zeilen aus einer Datei voranstellen.
code-table-says = { $rows ->
    [one] {$rows} Zeile
   *[other] {$rows} Zeilen
}, { $own ->
    [0] keine eigenen
   *[other] davon {$own} eigene
}.
code-table-file = Datei mit Zeilen
code-table-add = Eigene Zeilen aus Datei nehmen
code-table-added = Übernommen: {$name}
code-table-show = Eigene Zeilen ansehen
code-table-remove = Eigene Zeilen entfernen
code-table-gone = Entfernt: eigene Zeilen

procedures-explain = Eine Werkstatt kann einen eigenen Arbeitsablauf aus einer Datei hinzufügen, oder eine neue Fassung. Aufträge behalten die Fassung, mit der sie begannen.
procedures-file = Datei des Arbeitsablaufs
procedures-add = Arbeitsablauf aus Datei nehmen
procedures-added = Hinzugefügt: {$name}
procedures-new-job = Neuer Auftrag: {$title}

tighten-to-feel = nach Gefühl
report-file = bericht
report-file-job = auftrag
go-ahead-currencies = EUR CHF USD
procedures-says = Fassung {$version}, { $steps ->
    [one] {$steps} Schritt
   *[other] {$steps} Schritte
}{ $ships ->
    [yes] , mitgeliefert
   *[no] {""}
}
