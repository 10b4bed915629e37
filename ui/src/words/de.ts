/**
 * Every text of the screens, in German: workshop German, short, without „du“
 * or „Sie“ where it can be said without.
 */
import { rowIn } from '../door/tables';
import type { ComponentKind } from '../door/types/ComponentKind';
import type { PhotoSubject } from '../door/types/PhotoSubject';
import { readingTable } from '../door/types/readingTable';
import type { WantView } from '../door/types/WantView';
import type { Words } from './en';

/** „1 Foto“, „3 Fotos“ */
const many = (n: number, one: string, more: string): string => `${n} ${n === 1 ? one : more}`;
const keys = <T extends string>(pairs: Record<T, string>) =>
  (Object.entries(pairs) as [T, string][]).map(([id, label]) => ({ id, label }));
const figures = new Intl.NumberFormat('de', { maximumFractionDigits: 4, useGrouping: false });
const figure = (n: number): string => figures.format(n);

const subjects: Record<PhotoSubject, string> = {
  patch: 'Der Abstrich',
  patch_after_magnet: 'Der Abstrich nach dem Magneten',
  pan: 'Die Ölwanne',
  magnet: 'Der Magnet',
  place: 'Wo es hingehört',
  filter: 'Der Filter',
  part: 'Das Teil',
  leak: 'Die geprüfte Stelle',
  other: 'Ein Foto',
};

export const de: Words = {
  app: 'Swarfbook',
  subjects,

  door: {
    unreachable: 'Der Speicher antwortet nicht.',
    unreachableDo:
      'Prüfen, ob der Server der Werkstatt läuft und erreichbar ist, dann noch einmal versuchen.',
    typedKept: 'Nichts Getipptes ist verloren.',
    typedHere: 'Diese Seite offen lassen: dieser Browser behält nichts, Getipptes steht nur hier.',
    stranger: 'Dieser Browser ist hier nicht bekannt.',
    strangerDo: 'Die Adresse öffnen, die der Server ausgegeben hat.',
    strange: (status: number) => `Die Antwort ist nicht lesbar (${status}).`,
    strangeDo: 'Noch einmal versuchen.',
    broke: (said: string) => `Das hat nicht geklappt: ${said}`,
    brokeDo: 'Noch einmal versuchen.',
  },

  busy: {
    file: 'Die Datei entsteht …',
    opening: 'Wird geöffnet…',
    writing: 'Wird aufgeschrieben…',
    undoing: 'Wird rückgängig gemacht…',
    photo: 'Foto wird abgelegt…',
    reading: 'Foto wird ausgewertet…',
    report: 'Bericht wird geschrieben…',
    syncing: 'Der Server wird gefragt…',
  },

  thumb: {
    undo: 'Rückgängig',
    undoKey: 'Rück\u00adgängig',
    undoWhat: (what: string) => `Rückgängig: ${what}`,
    takenBack: (what: string) => `Rückgängig gemacht: ${what}`,
    camera: 'Kamera',
    back: 'Zurück',
    toJob: 'Zurück zum Schritt',
    tryAgain: 'Noch einmal versuchen',
    writeAnyway: 'Trotzdem schreiben',
    changeIt: 'Ändern',
    understood: 'Verstanden',
    nothingNext: 'Gerade nichts zu drücken',
  },

  standing: {
    later: 'später',
    in_hand: 'in Arbeit',
    done: 'erledigt',
    skipped: 'übersprungen',
    passed: 'nicht nach „Öffnen“',
  },

  spine: {
    label: 'Abschnitte',
    knot: (number: number | string, title: string, standing: string) =>
      `${number} ${title}, ${standing}`,
    more: 'Mehr',
    step: (title: string, standing: string) => `${title}, ${standing}`,
    far: (done: number, all: number) => `${done} von ${all} Abschnitten`,
  },

  keypad: {
    label: 'Zifferntasten',
    point: 'Komma',
    mark: ',',
    erase: 'löschen',
    thousand: 'drei Nullen',
    letters: 'Buchstabentasten',
    dash: 'Strich',
    space: 'Leerzeichen',
    names: { '-': 'plus oder minus', '>': 'mehr als', k: 'Kilo', M: 'Mega', OL: 'OL' },
    keyboard: 'Die Tastatur des Telefons',
    less: (what: string) => `weniger: ${what}`,
    more: (what: string) => `mehr: ${what}`,
  },

  firstRun: {
    hello: 'Ein Notizbuch für Getriebearbeit. Sechs Angaben, dann geht es los.',
    card: 'Die Maßkarte',
    cardWhy: 'Sie liegt in jedem Foto und gibt den Maßstab. Einmal drucken, mit 100 %.',
    begin: 'Anfangen',
    nameFirst: 'Zuerst der Name',
  },

  tour: {
    title: 'Ein Rundgang',
    at: (at: number, all: number) => `${at} von ${all}`,
    next: 'Weiter',
    end: 'Zu den Aufträgen',
    leave: 'Beenden',
    pages: [
      {
        drawing: 'secured',
        title: 'Ein Schritt, ein Druck',
        text: 'Jeder Schritt zeigt, was zu tun und worauf zu achten ist. Die orange Taste unten ist das Nächste. Die Zeichnungen an der Seite sind die Abschnitte: Ein Druck führt hin, in jeder Reihenfolge.',
      },
      {
        drawing: 'patch',
        title: 'Die Karte liegt in jedem Foto',
        text: 'Die Maßkarte mit 100 % drucken. Neben dem Abrieb gibt sie dem Foto seinen Maßstab. Die App zählt die Teilchen; korrigiert und bestätigt wird von Hand.',
      },
      {
        drawing: 'resistance',
        title: 'Messungen auf einem Blatt',
        text: 'Teile und Herstellergrenzen einmal benennen. Jede Messung sagt mit einem großen Wort, mit Ton und Vibration, was sie ergibt, und das nächste Teil steht bereit.',
      },
      {
        drawing: 'report',
        title: 'Sofort aufgeschrieben, immer rückgängig',
        text: 'Jeder Druck steht im Protokoll, bevor der Bildschirm es sagt, mit und ohne Empfang. „Rückgängig“ nimmt den letzten zurück. Am Ende wird daraus der unterschriebene Bericht für den Kunden.',
      },
    ],
  },

  settings: {
    language: 'Sprache',
    technician: 'Name, wie er im Bericht steht',
    shop: 'Name der Werkstatt',
    address: 'Adresse',
    telephone: 'Telefon',
    hand: 'Welcher Daumen drückt?',
    hands: keys({ left: 'Linker', right: 'Rechter' }),
    paper: 'Bildschirm',
    papers: keys({ bay: 'dunkel', desk: 'hell' }),
    glove: 'Handschuhe',
    gloves: keys({ off: 'Bloße Hände', on: 'Mit: größer' }),
    meter: 'Das Messgerät',
    sound: 'Nach einer Messung',
    sounds: keys({ on: 'Ton und Vibration', off: 'still' }),
    guard: 'Wie sicher muss „in“ oder „außer Vorgabe“ sein?',
    guardExplain:
      'Ein Messwert nahe an einer Grenze, der weniger sicher ist, gilt als „zu knapp“. Üblich sind 95 %.',
    guards: [
      { id: '0.5', label: '50 %: ohne Abstand' },
      { id: '0.8', label: '80 %' },
      { id: '0.95', label: '95 %' },
      { id: '0.99', label: '99 %' },
    ],
    market: 'Wo wurden die Autos verkauft?',
    markets: keys({
      north_america: 'USA oder Kanada',
      elsewhere: 'anderswo',
      unknown: 'beides oder unbekannt',
    }),
    keep: 'Speichern',
  },

  files: {
    title: 'Ein Export',
    explain:
      'Alles darin, was diesem Gerät fehlt, wird importiert: Aufträge, Fotos, Kunden. Was schon da ist, bleibt wie es ist.',
    none: 'Es wartet nichts.',
    takeIn: 'Importieren',
    cameIn: (lines: number, photos: number) =>
      `${many(lines, 'Zeile', 'Zeilen')} und ${many(photos, 'Foto', 'Fotos')} importiert.`,
    lies: (place: string) => `Die Datei liegt hier: ${place}`,
    card: 'masskarte.pdf',
    checker: 'bericht-check.html',
    noChecker: 'Die Seite, die einen Bericht prüft, ist in dieser App nicht enthalten.',
    askHub: 'Der Server der Werkstatt zeigt sie unter /verify.',
  },

  units: {
    label: 'Welche Einheiten?',
    of: {
      distance: 'Fahrstrecke',
      temperature: 'Temperatur',
      torque: 'Drehmoment',
      volume: 'Öl',
      length: 'Länge der Schrauben',
    },
  },

  jobs: {
    label: 'Aufträge',
    count: (n: number) => many(n, 'Auftrag', 'Aufträge'),
    newJob: 'Neuer Auftrag',
    more: 'Mehr',
    find: 'Suchen',
    search: 'Auftrag suchen',
    searchHint: 'Kennzeichen, Auto, Kunde',
    untitled: 'Noch kein Kennzeichen',
    emptyTitle: 'Das Buch ist leer.',
    emptyText:
      'Ein Auftrag beginnt mit dem Auto auf der Bühne: Kennzeichen, Beanstandung, Fehlercodes. Dann führt das Buch durch Ölwanne, Prüfungen und Bericht, eines nach dem anderen.',
    emptyNext:
      'Nichts braucht Empfang. Jeder Druck ist sofort aufgeschrieben und lässt sich immer zurücknehmen.',
    noneFound: (search: string) => `Kein Auftrag passt zu „${search}“.`,
  },

  job: {
    one: 'Auftrag',
    demo: 'erfundene Vorführung',
    notebook: 'Notizbuch',
    steps: (stage: string) => `Schritte: ${stage}`,
    stepOf: (at: number, all: number) => `Schritt ${at} von ${all}`,
    finished: 'Alles ist erledigt oder übersprungen. Der Bericht steht unter „Mehr“.',
  },

  step: {
    caution: 'Vorsicht',
    tick: (title: string) => `Abhaken: ${title}`,
    toHand: (title: string) => `Zum Schritt in Arbeit: ${title}`,
    isDone: 'Erledigt.',
    notYet: 'Noch nicht: siehe oben',
    isSkipped: (reason: string) => `Übersprungen: ${reason}`,
    isPassed:
      'Es wurde entschieden, das Getriebe zu öffnen: dieser Schritt wird nicht mehr verlangt, lässt sich aber machen.',
    why: 'Warum?',
    note: 'Notiz',
    leaveOut: 'Überspringen, mit Grund',
    leaveOutTitle: (title: string) => `Überspringen: ${title}`,
    leaveOutWith: (reason: string) => `Überspringen: ${reason}`,
    reason: 'Warum übersprungen',
    reasonFirst: 'Zuerst der Grund',
    reasons: [
      'hat dieses Auto nicht',
      'der Kunde will es nicht',
      'die Herstellerdaten sagen es anders',
      'schon gemacht',
      'nicht erreichbar',
      'beim nächsten Besuch',
    ],
    notNow: 'Zurück zum Schritt',
  },

  note: {
    title: (step: string) => `Notiz zu: ${step}`,
    text: 'In eigenen Worten',
    who: 'Wer liest das?',
    whos: keys({ report: 'Im Bericht', private: 'Nur Werkstatt' }),
    keep: 'Notiz schreiben',
    first: 'Zuerst der Text',
  },

  more: {
    title: 'Mehr',
    jobs: 'Alle Aufträge',
    hand: 'Zurück zum Schritt',
    pan: 'Ölwanne und Verschleiß',
    parts: 'Ausgebaute Teile',
    bench: 'Elektrische Teile',
    photos: 'Fotos',
    log: 'Das ganze Protokoll',
    report: 'Der Bericht',
    customer: 'Die Antwort des Kunden',
    reports: (n: number) => (n === 0 ? 'noch nicht erstellt' : `${n} erstellt`),
    card: 'Die Maßkarte zum Drucken',
    checker: 'Die Seite, die einen Bericht prüft',
    everything: 'Alles von hier in einer Datei',
    settings: 'Name, Sprache, Hand, Bildschirm',
    procedures: 'Arbeitsabläufe',
    record: 'Wie oft die Maschine recht hatte',
    sync: 'Server der Werkstatt',
  },

  log: {
    machine: 'Die Maschine: ',
    takenBack: 'rückgängig gemacht',
    unsigned: 'nicht unterschrieben',
    takeBack: 'Diese Zeile rückgängig machen',
    takeBackShort: 'Rückgängig',
    redo: 'Diese Zeile wiederherstellen',
    redoShort: 'Wiederherstellen',
    keepIt: 'Abbrechen',
    choose: (what: string) => `Rückgängig: ${what}`,
    chooseRedo: (what: string) => `Wiederherstellen: ${what}`,
    short: (lines: number, last: string, at: string) =>
      `${many(lines, 'Zeile', 'Zeilen')}, zuletzt: ${last}, ${at}`,
    by: (name: string) => `von ${name}`,
    reason: 'Warum (darf leer bleiben)',
  },

  want: {
    several: 'Mehreres kann zutreffen: jedes drücken, dann schreiben.',
    whatItIs: 'Was es ist',
    sayWhat: 'Sagen, was es ist',
    label: (want: WantView): string => {
      switch (want.kind) {
        case 'car':
          return 'Das Auto';
        case 'complaint':
          return 'Die Beanstandung';
        case 'codes':
          return want.moment === 'before' ? 'Codes bei Ankunft' : 'Codes nach der Arbeit';
        case 'go_ahead':
          return 'Freigabe';
        case 'parts_off':
          return 'Ausgebaute Teile';
        case 'parts_back':
          return 'Wieder eingebaut';
        case 'census':
          return 'Die Zählungen';
        case 'components':
          return 'Elektrische Teile';
        case 'readings':
          return rowIn(readingTable.de, want.quantity).label;
        case 'explains':
          return 'Was es erklärt';
        case 'decision':
          return 'Entscheidung';
        case 'replace':
          return `Ersetzt: ${want.what}`;
        case 'tighten':
          return `Angezogen: ${want.what}`;
        case 'report':
          return 'Der Bericht';
        case 'answer':
          return 'Die Antwort des Kunden';
        default:
          return want.label;
      }
    },
    row: (label: string, state: string) => `${label}: ${state}`,
    have: 'steht da',
    missing: 'zu tun',
    optional: 'freiwillig',
    choose: 'Eine der Tasten drücken',
    enter: (label: string) => `${label}: eingeben`,
    write: (what: string) => `Schreiben: ${what}`,
    offers: (label: string) => `${label}: Tasten`,
    enough: 'Das sind alle',
  },

  photo: {
    take: (label: string) => `Foto: ${label}`,
    another: (label: string) => `Noch ein Foto: ${label}`,
    open: (what: string) => `Foto öffnen: ${what}`,
    again: 'Neu aufnehmen',
    againShort: 'Noch mal',
    takenAgain: 'neu aufgenommen',
    none: 'Noch kein Foto.',
  },

  camera: {
    title: (subject: string) => `Kamera: ${subject}`,
    live: 'Was die Kamera sieht',
    still: 'Das Foto, wie aufgenommen',
    held: 'Dieses Foto ist nur auf dieser Seite, bis es behalten ist: Neu laden oder Schließen verliert es.',
    shoot: 'Foto aufnehmen',
    opening: 'Kamera wird geöffnet…',
    keep: 'Dieses Foto behalten',
    tryAgain: 'Kamera noch einmal versuchen',
    refused:
      'Die Kamera in der App lässt sich nicht öffnen. In den Einstellungen des Telefons oder des Browsers erlauben oder eine der beiden Tasten unten nehmen.',
    file: 'Fotodatei',
    system: 'Kamera des Telefons',
    torch: 'Licht',
    itself: 'Automatisch',
    told: 'Auf Druck',
    advice: {
      good: 'Gut: stillhalten',
      dark: 'Zu dunkel: Licht holen',
      glare: 'Spiegelung: Licht zur Seite',
      no_card: 'Die ganze Maßkarte zeigen',
      tilted: 'Gerade darüber halten',
      far: 'Näher heran',
      blurred: 'Unscharf: stillhalten',
    },
    lift: {
      top: 'Oberkante anheben',
      right: 'Rechte Kante anheben',
      bottom: 'Unterkante anheben',
      left: 'Linke Kante anheben',
    },
    loud: 'Ton an',
    silent: 'Ton aus',
    doing: ['Foto ablegen', 'Karte, Teilchen und ihre Art finden'],
    figures: (tilt: number, pxPerMm: number) =>
      `${Math.round(tilt)}° schräg, ${Math.round(pxPerMm)} px/mm`,
    hold: 'Von der Seite: das Telefon waagerecht darüber, die Maßkarte auf gleicher Höhe.',
    how: {
      patch: 'Gerade von oben, die Maßkarte daneben, keine Spiegelung.',
      patch_after_magnet: 'Dieselbe Stelle, nach dem Magneten; die Maßkarte daneben.',
      pan: 'Gerade von oben, nichts abgewischt, die Maßkarte darin.',
      magnet: 'Wie er sitzt, vor dem Abwischen; wenn Platz ist, die Maßkarte auf seiner Höhe.',
      place: 'So, dass es jemand anders wieder einbauen könnte.',
    },
  },

  stray: {
    title: 'Von der Kamera des Telefons',
    waits: (n: number) =>
      `${many(n, 'Foto', 'Fotos')} der Telefonkamera kam in keinen Auftrag, weil die App inzwischen geschlossen wurde. Den Auftrag öffnen, dann Mehr.`,
    explain: (when: string) =>
      `Die Kamera des Telefons hat es aufgenommen (${when}), und die App wurde inzwischen geschlossen. Gehört es zu diesem Schritt?`,
    torn: (when: string) =>
      `Die Kamera des Telefons hat eine Datei hinterlassen (${when}), die kein ganzes Foto ist. Noch einmal aufnehmen.`,
    picture: (when: string) => `Das Foto von ${when}`,
    subject: 'Was es zeigt',
    leave: 'Dieses Foto weglassen',
    leaveShort: 'Weglassen',
    leaving: 'Es kommt dann in keinen Auftrag, und nach ihm wird nicht mehr gefragt.',
    reallyLeave: 'Endgültig weglassen',
    keepAfterAll: 'Doch nicht weglassen',
    keepShort: 'Abbrechen',
    later: 'Später',
    none: 'Hier wartet kein Foto.',
  },

  car: {
    plate: 'Kennzeichen',
    description: 'Das Auto',
    descriptionHint: 'Farbe, Bauart, Getriebe',
    vin: 'FIN (VIN)',
    odometer: 'Kilometerstand',
    changed: 'Letzter Ölwechsel bei (leer: weiß niemand)',
    owner: 'Halter',
    contact: 'Telefon oder E-Mail',
    plateFirst: 'Zuerst Kennzeichen oder FIN',
    odometerNext: 'Jetzt der Kilometerstand',
  },

  gearbox: {
    unit: 'Das Getriebe darin',
    units: {
      original: 'das erste',
      rebuilt: 'überholt',
      new: 'ein anderes, neu',
      used: 'ein anderes, gebraucht',
      unknown: 'nicht bekannt',
    },
    unitAt: 'Eingebaut bei (Kilometerstand)',
    first: 'Sein erster Service?',
    firsts: { yes: 'ja', no: 'nein', unknown: 'nicht bekannt' },
    wiped: 'Beim letzten Service Wanne ab und Magnete gewischt?',
    wipeds: { yes: 'ja', no: 'nein', never: 'nie ab', unknown: 'nicht bekannt' },
  },

  meter: {
    own: 'eigenes Gerät',
    byLeaflet: 'Genauigkeit eingeben',
    explain: 'Aus der Anleitung: ± (Prozent vom Messwert + Digits der letzten Stelle).',
    percent: 'Prozent vom Messwert',
    counts: 'Digits',
    take: (percent: string, counts: string) =>
      `Dieses Gerät: ±${percent || '…'} % + ${counts || '…'}`,
  },

  tools: {
    title: 'Nummern der Werkzeuge',
    explain:
      'Danach fragt ein Gutachter. Jede wird einmal gefragt und steht im Anhang des Berichts; was leer ist, gilt dort als „nicht angegeben“.',
    wrench: 'Drehmomentschlüssel',
    serial: (name: string) => `Seriennummer: ${name}`,
    calibrated: (name: string) => `Kalibriert am: ${name}`,
    cardLine: 'Die Linie von 150 mm auf dem Blatt der Maßkarte, wie sie nachgemessen ist',
    cardDay: 'Nachgemessen am',
  },

  trend: {
    plot: 'Teilchen auf 10.000 km bei jedem Besuch, mit 90-%-Bereichen',
    axis: 'Verschleißteilchen auf 10.000 km; gefüllt: dieser Besuch.',
    now: 'jetzt',
    visits: 'Besuche, der älteste zuerst',
  },

  vin: {
    scan: 'FIN: Strichcode lesen',
    file: 'FIN: aus einer Fotodatei',
    fromPhoto: 'FIN aus dem Foto von hier',
    read: (vin: string, format: string) =>
      `Aus ${format} gelesen: ${vin}. Mit dem Auto vergleichen.`,
  },

  complaint: {
    words: 'In den Worten des Kunden',
    what: 'Was macht es?',
    when: 'Wann zeigt es sich?',
    keep: 'Beanstandung schreiben',
    first: 'Zuerst der Text',
  },

  codes: {
    label: 'Gelesene Codes',
    state: 'Gespeichert oder vorläufig',
    states: { stored: 'gespeichert', pending: 'vorläufig' },
    stateKeys: keys({ pending: 'Vorläufig', stored: 'Gespeichert' }),
    typing: 'Der Code, der getippt wird',
    pad: 'Code-Tasten',
    remove: (code: string) => `${code} entfernen`,
    takeOut: 'entfernen',
    status: 'ändern',
    statusOf: (code: string) => `Statusbyte von ${code}`,
    bitsOf: (code: string) => `Statusbits von ${code}`,
    noStatus: 'Kein Status',
    orTap: 'oder die gesetzten Bits antippen:',
    bits: [
      'Fehler jetzt',
      'Fehler in diesem Zyklus',
      'vorläufig',
      'bestätigt',
      'seit dem Löschen nicht geprüft',
      'Fehler seit dem Löschen',
      'in diesem Zyklus nicht geprüft',
      'Warnleuchte',
    ],
    inBytes: 'Code als Hex',
    inLetters: 'Code als Buchstabe und Ziffern',
    takeBytes: (bytes: string) => `${bytes} nehmen`,
    failureType: (code: string) => `Fehlerart von ${code}`,
    finish: (typing: string) => `${typing} fertig tippen…`,
    noneKey: 'Keine Codes gesetzt',
    none: 'Schreiben: keine Codes gesetzt',
    first: 'Ein Code, oder „Keine Codes gesetzt“',
    stateFirst: 'Gespeichert oder vorläufig?',
    write: (n: number) => `Schreiben: ${many(n, 'Code', 'Codes')}`,
  },

  goAhead: {
    /** Who and how in one key. */
    ways: (who: string) =>
      keys({
        in_person: `${who}, persönlich`,
        phone: `${who}, am Telefon`,
        message: `${who}, schriftlich`,
      }),
    other: 'Wer, falls jemand anderes',
    amount: 'Anderer Betrag',
    by: 'Wer hat zugestimmt',
    customer: 'der Kunde',
    amounts: 'Runde Beträge',
    how: 'Wie',
    hows: keys({ in_person: 'Persönlich', phone: 'Am Telefon', message: 'Schriftlich' }),
    limit: 'So viel darf es höchstens kosten, ehe neu gefragt wird',
    currency: 'Währung',
    currencies: (now: string) =>
      [...new Set([now, 'EUR', 'CHF', 'USD'])].slice(0, 4).map((id) => ({ id, label: id })),
    whos: 'Wer zugestimmt hat, zur Wahl',
    whoFirst: 'Wer hat zugestimmt?',
    howFirst: 'Wie wurde zugestimmt?',
    limitFirst: 'Bis wie viel, oder ohne Grenze?',
    limits: 'Grenze',
    noLimitKey: 'Keine Grenze vereinbart',
    upTo: (who: string, amount: string) => `Schreiben: ${who}, bis ${amount}`,
    noLimit: (who: string) => `Schreiben: ${who}, ohne Grenze`,
  },

  parts: {
    label: 'Ausgebaute Teile',
    item: 'Was kam heraus',
    ownItem: 'Was herauskam, in Worten',
    items: [
      'Schrauben M6',
      'Schrauben M8',
      'Schrauben',
      'Muttern',
      'Blechschrauben',
      'Strebe',
      'Abdeckung',
      'Halter',
      'Hitzeblech',
      'Klammer',
      'Stopfen',
    ],
    /** Was Größe und Länge hat. */
    fasteners: ['Schrauben', 'Muttern', 'Blechschrauben'],
    count: 'Wie viele',
    countKeys: 'So viele',
    size: 'Größe',
    sizes: ['M5', 'M6', 'M8', 'M10'],
    length: 'Länge',
    place: 'Wo es wieder hinkommt',
    places: ['Ölwanne', 'vorn', 'hinten', 'links', 'rechts', 'Mitte'],
    photo: 'Foto der Stelle',
    photoOf: (what: string, n: number) => `${what}, ${n}`,
    tapPlaces: (n: number) =>
      n === 0 ? 'Jede Stelle im Foto antippen.' : `${many(n, 'Stelle', 'Stellen')} angetippt.`,
    lastPlace: 'Letzte Stelle wegnehmen',
    say: (count: string, item: string, size: string, length: string) =>
      [count, item, size, length && `× ${length}`].filter(Boolean).join(' '),
    off: (what: string) => `Ausgebaut: ${what}`,
    change: (what: string) => `${what}: ändern`,
    itemFirst: 'Was kam heraus?',
    countFirst: 'Wie viele?',
    placeFirst: 'Wo gehört es hin?',
    enoughOff: 'Mehr kam nicht heraus',
    stillOff: (n: number) => (n === 0 ? 'nichts ist ab' : `${n} noch ab`),
    nothing: 'Nichts wurde ausgebaut.',
    standing: (off: number, count: number) =>
      off === 0
        ? 'alles wieder drin'
        : off === count
          ? 'ausgebaut'
          : `${off} von ${count} ausgebaut`,
    back: (n: number) => (n === 1 ? 'Eins wieder drin' : `Alle ${n} wieder drin`),
    backName: (n: number, what: string) =>
      `${n === 1 ? 'Eins wieder drin' : `Alle ${n} wieder drin`}: ${what}`,
    lost: 'Verloren oder kaputt',
    lostHow: 'Was damit geschah',
    writeLost: 'Schreiben: eins verloren',
    laterBack: (n: number) => `Weiter, ${n} noch ausgebaut`,
    putBack: (n: number) => `${n} noch ausgebaut`,
    allBack: 'Alles ist wieder drin',
  },

  bench: {
    label: 'Elektrische Teile',
    kind: 'Was ist es?',
    kindFirst: 'Was ist es?',
    poles: 'Sein anderer Pol',
    byCase: keys({ case: 'Masse über das Gehäuse (eine Ader)' }),
    name: 'Name im Schaltplan des Herstellers',
    names: 'Namen zur Wahl',
    nameFirst: 'Welches ist es?',
    named: (name: string) => `Sein Name: ${name}`,
    change: (what: string) => `${what}: ändern`,
    suggest: (kind: ComponentKind): string[] =>
      kind === 'temperature_sensor'
        ? ['Öltemperatur']
        : kind === 'speed_sensor'
          ? ['Eingangsdrehzahl', 'Ausgangsdrehzahl']
          : kind === 'other'
            ? []
            : [...'ABCDEFGH'].map((letter) => `Magnetventil ${letter}`),
    connector: 'Stecker: Farbe oder Zeichen',
    number: 'Teilenummer',
    codes: 'Codes, die es nennen',
    low: 'Grenze von',
    high: 'Grenze bis',
    at: 'bei',
    source: 'Wo die Grenzen stehen',
    sourceHint: 'Herstellerhandbuch, Seite…',
    sources: 'Wessen Daten',
    sourceKeys: ['Herstellerhandbuch', 'Herstellerdaten', 'Datenblatt des Teils'],
    sets: 'Teile eines Getriebes, das schon hier war',
    partsOf: (name: string, n: number) => `${name}: ${many(n, 'Teil', 'Teile')}`,
    keepSet: 'Diese Teile für das nächste gleiche behalten',
    setName: 'Wie heißt dieses Getriebe?',
    keepSetAs: (name: string) => `Behalten als: ${name}`,
    forgetSet: (name: string) => `Teile von ${name} vergessen`,
    moreLike: (name: string) => `Weitere wie ${name}`,
    codeNames: (code: string) => `${code} benennt (Herstellerdaten)`,
    oneMore: (name: string, like: string) => `${name}, wie ${like}`,
    sourceFirst: 'Wo stehen die Grenzen?',
    sameLimits: (name: string, spec: string) => `Gleiche Grenzen wie ${name}: ${spec}`,
    write: (name: string) => `Schreiben: ${name} und Grenzen`,
    writeBare: (name: string) => `Schreiben: ${name}, ohne Grenzen`,
    enough: (n: number) => `Das sind alle: ${many(n, 'Teil', 'Teile')}`,
    replaced: 'ersetzt',
    noSpec: 'keine Grenzen eingegeben',
    how: 'So wurde gerechnet',
    nothing: 'Noch kein elektrisches Teil benannt.',
    toReadings: 'Zu den Messungen',
  },

  limits: {
    of: 'Grenzen für',
    ofWhat: (what: string) => `Grenzen für: ${what}`,
    atKeys: 'Temperatur, bei der die Grenzen gelten',
    atUnsaid: 'Keine angegeben',
    atAssumed: (at: string) =>
      `Dann wird etwa ${at} angenommen, und das Urteil ist weniger sicher.`,
    atFirst: 'Bei welcher Temperatur gelten sie?',
    form: 'So gibt sie der Hersteller an',
    forms: keys({ range: 'Bei einer Temperatur', table: 'Eine Tabelle', b_value: 'Ein B-Wert' }),
    row: (n: number) => `Zeile ${n} der Tabelle`,
    celsius: 'Bei',
    moreRows: 'Noch eine Zeile (kalt nach heiß)',
    tolerance: 'Toleranz',
    b: 'B-Wert',
    ohms: 'Widerstand',
    least: 'Mindestens',
    more: 'mehr Grenzen',
    moreOf: (name: string) => `Mehr Grenzen: ${name}`,
    no: 'Keine weiteren Grenzen',
  },

  readings: {
    samples: 'Ablesungen',
    typed: 'Was das Messgerät zeigt',
    part: 'Die Temperatur des Teils',
    field: (
      field: 'sample' | 'leads' | 'part' | 'top' | 'volts' | 'applied',
      value: string,
      degrees: string,
    ): string =>
      ({
        sample: value,
        leads: value ? `Leitungen ${value} Ω` : 'Leitungen: unbekannt',
        part: value ? `Teil ${value} ${degrees}` : `Teil: ${degrees} unbekannt`,
        top: value ? `Gerät endet bei ${value} Ω` : 'Gerät endet bei: unbekannt',
        volts: value ? `Prüfer mit ${value} V` : 'kein Isolationsprüfer',
        applied: value ? `${value} V am Teil` : 'Spannung am Teil: nicht gemessen',
      })[field],
    from: 'Wo wurde diese Temperatur gemessen?',
    froms: keys({
      probe_at_part: 'Fühler am Teil (± 1 K)',
      infrared: 'Infrarot (± 3 K)',
      scan_data: 'Diagnosegerät (± 3 K)',
      surroundings: 'Luft darum (± 3 K)',
    }),
    fromFirst: 'Wo wurde sie gemessen?',
    testerCaution:
      'Steuergerät und alle Sensoren abstecken, bevor ein Isolationsprüfer etwas berührt.',
    contact: 'Kontakt gezeigt durch',
    contactWhy:
      'Eine abgerutschte Prüfspitze ist der häufigste falsche Leerlauf. Erst zeigen, dass die Leitungen Kontakt haben, dann zählt ein Leerlauf.',
    contactBy: {
      leads: '✓ Kontakt: Spitzen zusammen',
      sibling: (name: string) => `✓ Kontakt: ${name} gemessen`,
      ticked: '✓ Kontakt gezeigt',
      not: 'Kontakt: nicht gezeigt',
    },
    contactKeys: {
      leads: 'Spitzen zusammengehalten: Anzeige eingeben',
      sibling: (name: string) => `${name}, mit diesen Leitungen gemessen`,
      ticked: 'Gezeigt, ohne Zahl',
      not: 'Nicht gezeigt',
    },
    appliedFirst: (name: string) => `Spannung an ${name}`,
    appliedCaution:
      'Über eine Sicherung, richtig gepolt, nicht länger, als der Hersteller erlaubt. Nichts an Elektronik.',
    by: 'Strom gemessen mit',
    byFirst: 'Womit wird der Strom gemessen?',
    bys: keys({ meter: 'Gerät in Reihe', clamp: 'Zange' }),
    click: 'Klicken',
    clicks: keys({ heard: 'Klicken gehört', none: 'Kein Klicken' }),
    leadsKeys: 'Spitzen zusammengehalten, Ω',
    leadsUnknown: 'Weiter, Leitungen unbekannt',
    meter: 'Messgerät',
    meterFirst: 'Welches Messgerät?',
    meterSays: (name: string, percent: number, counts: number) =>
      `${name} (±${figure(percent)} % + ${figure(counts)})`,
    take: (value: string) => `${value} nehmen`,
    write: (samples: string) => `Schreiben: ${samples}`,
    sameAgain: (value: string) => `Noch einmal ${value}`,
    drop: (sample: string) => `Ablesung ${sample} entfernen`,
    toSamples: 'Jetzt die Ablesung',
    first: (name: string) => `${name} messen`,
    next: (name: string) => `Weiter: ${name}`,
    enough: 'Das sind alle Messungen',
    partsFirst: 'Zuerst die Teile benennen',
    noParts: 'Noch kein elektrisches Teil benannt. Das ist der Schritt davor.',
    sheet: 'Teile und ihre Messwerte',
    row: (name: string, says: string) => `${name}: ${says}`,
    steady: (value: string) => `${value}, dreimal gleich`,
    jumps: (value: string) => `Es springt: ${value} merken und noch einmal sehen`,
    near: 'Nahe an dem, was gleiche Teile zeigen',
    asBefore: (value: string, name: string) => `${value} dreimal, wie ${name}`,
    allOpen: (n: number) => `Alle ${n} zeigen OL gegen Masse`,
    plot: (value: string, verdict: string) => `${value}: ${verdict}`,
  },

  harness: {
    title: (part: string) => `Leitungen: ${part}`,
    drawing: 'Vom Steuergerät links zum Teil rechts, Masse unten.',
    how: 'Von Pin zu Pin und von jedem Pin nach Masse, auf beiden Seiten: das zeigt, welches Stück offen oder kurzgeschlossen ist oder zu viel Widerstand hat.',
    caution:
      'Zündung aus, Steuergerät abgezogen. Von hinten in den Stecker oder mit dem passenden Stift messen: eine breite Spitze weitet den Kontakt.',
    control: 'Am Stecker des Steuergeräts, das Teil angesteckt',
    part: 'Das Teil allein, abgesteckt',
    wires: 'Jede Leitung von Ende zu Ende, beide Seiten abgesteckt',
    looks: {
      c: (first: string, second: string) => `Pin ${first} zu Pin ${second}`,
      c1: (first: string) => `Pin ${first} nach Masse`,
      c2: (_: string, second: string) => `Pin ${second} nach Masse`,
      p: () => 'Das Teil, Pin zu Pin',
      p1: (first: string) => `Das Teil, Pin ${first} nach Masse`,
      p2: (_: string, second: string) => `Das Teil, Pin ${second} nach Masse`,
      w1: (first: string) => `Leitung von Pin ${first}`,
      w2: (_: string, second: string) => `Leitung von Pin ${second}`,
      leads: () => 'Messleitungen zusammengehalten',
    },
    blank: '– Ω',
    pin: (n: 1 | 2) => `Name von Pin ${n} im Plan`,
    next: (look: string) => `Weiter: ${look}`,
    first: (look: string) => `Messen: ${look}`,
    write: (n: number) => `Schreiben: ${many(n, 'Zahl', 'Zahlen')}`,
    open: (part: string) => `Die Leitungen von ${part}`,
  },

  explains: {
    read: 'Gesehen',
    notYet: 'Noch nichts abzuwägen',
    nothing: 'Noch kein Code und kein Messwert, der zur Beanstandung passen könnte.',
  },

  tighten: {
    torque: 'Anzugsdrehmoment nach Herstellerdaten',
    torqueFirst: 'Das Drehmoment, oder nach Gefühl',
    how: 'Wie',
    hows: keys({
      feel: 'Von Hand, nach Gefühl',
      angle: 'Drehmoment und Winkel',
      by_hand: 'Alle von Hand angesetzt',
    }),
    angle: 'Dann weiter um',
    angleFirst: 'Der Winkel',
    byHandThen: (passes: number) => `Alle von Hand angesetzt, dann ${passes} Durchgänge`,
    byHandFirst: '„Alle von Hand angesetzt“ drücken, wenn es so ist',
    passes: 'Durchgänge',
    passesFirst: 'Wie viele Durchgänge?',
    write: (what: string, torque: string) => `Schreiben: ${what} ${torque || 'nach Gefühl'}`,
  },

  plan: {
    show: 'Reihenfolge und Durchgänge',
    picture: (n: number) => `Anziehen über Kreuz, ${n} Schrauben, mit Nummern`,
    passes: 'Durchgänge, einer nach dem anderen abhaken',
    bolts: 'Wie viele Schrauben',
    more: 'Dazu',
    mores: keys({ adapter: 'Adapter am Schlüssel', sealant: 'Dichtmasse, keine Dichtung' }),
    lever: 'Schlüssel: Mitte Griff bis Vierkant',
    length: 'Adapter: Vierkant bis Schraube',
    angle: 'Wie der Adapter zum Schlüssel steht',
    angles: keys({ '0': 'gerade', '45': '45°', '90': 'rechtwinklig' }),
    tool: 'Wie genau ist der Drehmomentschlüssel?',
    tools: keys({ none: 'Keine Angabe', scale: 'Nach Skala', percent: 'Nach Prüfschein' }),
    most: 'Seine Skala endet bei (ISO 6789)',
    percent: 'Sein Prüfschein sagt',
    isInstead: (torque: string) => `Es sind ${torque}`,
    isSure: (torque: string) => `Es sind ${torque}, wie eingegeben`,
    doubt: 'Was gilt?',
  },

  replace: {
    component: 'Welches Teil',
    what: 'Was ersetzt wurde',
    number: 'Nummer des neuen Teils',
    batch: 'Charge oder Datum',
    old: 'Das alte Teil',
    olds: keys({ kept: 'Für Kunden aufgehoben', not: 'Nicht aufgehoben' }),
    write: (what: string) => `Schreiben: ${what} ersetzt`,
    first: 'Was wurde ersetzt?',
    whats: 'Ersetzt',
    oldFirst: 'Wo ist das alte Teil?',
    enough: 'Mehr wurde nicht ersetzt',
  },

  census: {
    lookAt: (what: string) => `Ansehen: ${what}`,
    enough: 'Alle Zählungen bestätigt',
    photosFirst: 'Erst Fotos: Wanne, Magnete, Abstrich',
    noPhotos: 'Noch kein Foto von Ölwanne, Magnet oder Abstrich.',
    notRead: 'Noch nicht ausgewertet.',
    confirmed: '✓ Bestätigt.',
    notConfirmed: '○ Noch nicht bestätigt.',
  },

  decision: {
    label: 'Was entschieden ist',
    choices: {
      carry_on: 'Die Arbeit beenden',
      watch: 'Beobachten',
      test_first: 'Erst prüfen',
      open_up: 'Öffnen',
    },
    tests: 'Als Nächstes:',
    advises: 'Rat:',
    soFar: 'Nach bisheriger Zählung:',
    confirmFirst: (what: string) => `Zuerst bestätigen: ${what}`,
    take: (choice: string) => `Entscheiden: ${choice}`,
    overrule: (choice: string) => `Gegen den Rat: ${choice}`,
    reason: 'Warum anders entschieden wird',
    reasonFirst: 'Zuerst der Grund',
    reasons: [
      'der Kunde will es so',
      'Abrieb stammt von früherer Reparatur',
      'selbst gesehen: in Ordnung',
      'mehr, als das Foto zeigt',
    ],
    choose: 'Wie wird entschieden?',
    notYet: 'Noch nichts abzuwägen: erst eine Zählung bestätigen.',
    was: (what: string) => `Entschieden: ${what}`,
  },

  pan: {
    table: (name: string) => `Gewichte: ${name}`,
    gauge: (numeral: number, band: string, score: number, lo: number, hi: number) =>
      `Stufe ${numeral}, ${band}. Verschleißwert ${score}, zwischen ${lo} und ${hi}.`,
    score: (score: number, lo: number, hi: number) =>
      `Verschleißwert ${score} (${lo} bis ${hi}) von 100`,
    reasons: 'Gründe, die schwersten zuerst',
    share: (share: number) => `${Math.round(share * 100)} %`,
    more: (n: number) => (n === 1 ? '1 weiterer Grund' : `${n} weitere Gründe`),
    basis: 'Worauf das beruht',
    photo: 'Foto',
    seePhoto: (reason: string) => `Foto dazu: ${reason}`,
    missing: 'Noch nicht bekannt:',
    nothing:
      'Noch nichts gezählt. Der Verschleißwert kommt aus den Fotos von Ölwanne, Magneten und Abstrich.',
  },

  review: {
    all: 'Alle Teilchen',
    read: 'Dieses Foto auswerten',
    standBy: (n: number) => `${many(n, 'Teilchen', 'Teilchen')} bestätigen`,
    piece: (number: number, of: number) => `Teilchen ${number} von ${of}`,
    previous: 'Voriges Teilchen',
    next: 'Nächstes Teilchen',
    close: 'Teilchen schließen',
    whatIsIt: 'Was ist es?',
    notDebris: 'kein Abrieb',
    redrawn: 'Umriss vom Techniker.',
    outline: 'Ist es ein Teilchen?',
    two: 'Trennen',
    cut: 'Teilen',
    join: 'Verbinden',
    cutAsk: 'Auf der einen Seite des Teilchens tippen, dann auf der anderen.',
    joinAsk: 'Das andere Teilchen antippen.',
    leaveIt: 'Abbrechen',
    samePlace: 'Zu welchem Foto es gehört',
    samePlaceAsk:
      'Was zwei Fotos einer Stelle zeigen, zählt einmal. Was ein Magnet mitnahm, ist Stahl.',
    alone: 'Es gibt kein früheres Foto, zu dem dieses gehören könnte.',
    machineSaid: (what: string) => `Die Maschine sagte: ${what}.`,
    likely: (p: number) => `${Math.round(p * 100)} % sicher`,
    pieces: 'Teilchen',
    tabs: 'Zu diesem Foto',
    panels: [
      { id: 'class', label: 'Arten' },
      { id: 'size', label: 'Größen' },
      { id: 'limits', label: 'Grenzen' },
      { id: 'patch', label: 'Gleiche Stelle' },
      { id: 'help', label: 'Maßstab setzen' },
    ],
    filterClass: 'Nur diese Arten zeigen',
    filterSize: 'Nur diese Größen zeigen',
    showAll: 'Wieder alle zeigen',
    count: (n: number, lo: number, hi: number) => `${n} (${Math.round(lo)} bis ${Math.round(hi)})`,
    noSizes: 'Keine Größen ohne Maßstab.',
    belowSeen: '* So kleine Teilchen sind auf diesem Foto nicht alle zu sehen.',
    scale: 'Maßstab:',
    cannot: 'Was dieses Foto nicht zeigen kann',
    zoom: 'Vergrößern',
    out: 'Verkleinern',
    gestures:
      'Zwei Finger vergrößern. Ein Finger verschiebt, wenn vergrößert ist. Gedrückt halten: keine Umrisse.',
  },

  howTo: {
    title: 'Abrieb fotografieren',
    steps: [
      {
        id: 'spread',
        title: 'Dünn verteilen',
        text: 'Den Rückstand auf weißes, fusselfreies Papier gießen oder wischen. Keine Haufen: Teilchen, die aufeinander liegen, zählen als eines.',
      },
      {
        id: 'card',
        title: 'Die Maßkarte daneben legen',
        text: 'Flach, sauber, auf gleicher Höhe, die ganze Karte im Bild. Sie gibt Maßstab, Lage und Weiß.',
      },
      {
        id: 'hold',
        title: 'Das Telefon waagerecht darüber halten',
        text: 'Eine Handlänge hoch, Licht von der Seite, kein Glanz. Der Pfeil zeigt, welche Kante höher muss.',
      },
    ],
    legend: 'Was die Teilchen sind',
    meanings:
      'Übliche Praxis, keine veröffentlichte Quelle. Das Verfahren des Herstellers geht vor.',
  },

  tray: {
    how: 'Tippen: stimmt. Halten: im Foto zeigen. %: wie sicher.',
    heaps: {
      grave: 'Wiegen am schwersten',
      doubtful: 'Unsicher',
      sure: 'Sicher',
      not_debris: 'Kein Abrieb',
    },
    confirmed: 'Bestätigt',
    rest: (left: number, all: number) =>
      left === 0 ? `Alle ${all} bestätigen` : `Der Rest stimmt: ${left}`,
    none: (n: number) => (n === 1 ? 'Das ist kein Abrieb' : `Keines dieser ${n} ist Abrieb`),
    allKinds: 'Alle Arten',
    inPhoto: 'Im Foto',
    toPhoto: 'Das Foto',
    toTray: 'Die Schale',
    legend: 'Legende',
    letters: 'Buchstaben',
    moreKeys: 'Mehr',
    lessKeys: 'Weniger',
    lost: 'Das Foto lässt sich hier nicht zeigen; die Zahlen gelten.',
  },

  help: {
    label: 'Was angetippt wird',
    taps: 'Bekannte Länge',
    magnet: 'Der Magnet',
    drop: 'Öltropfen',
    ask: {
      taps: 'Die beiden Enden von etwas antippen, dessen Länge bekannt ist: Schraubenkopf, Lineal.',
      subject: 'Die Mitte der Magnetfläche antippen.',
      fluid: 'Die Mitte des Öltropfens antippen.',
    },
    known: 'Bekannte Längen',
    lengths: keys({
      '8': 'Kopf 8 mm',
      '10': 'Kopf 10 mm',
      '13': 'Kopf 13 mm',
      '50': 'Lineal 50 mm',
    }),
    length: 'Länge zwischen den Punkten',
    where: 'Die Punkte liegen',
    wheres: keys({ ground: 'auf dem Grund', subject: 'auf dem Magneten' }),
    readAgain: 'Damit neu auswerten',
    notYet: (mode: 'taps' | 'subject' | 'fluid', taps: number) =>
      mode === 'subject'
        ? 'Den Magneten antippen'
        : mode === 'fluid'
          ? 'Den Tropfen antippen'
          : taps === 0
            ? 'Ein Ende antippen'
            : taps === 1
              ? 'Das andere Ende antippen'
              : 'Wie lang ist es?',
  },

  report: {
    look: 'Bericht ansehen',
    explain:
      'Er wird durchgelesen, ehe er erstellt wird. Was erstellt ist, ist unterschrieben und ändert sich nicht mehr.',
    make: 'Bericht erstellen',
    again: 'Neu schreiben',
    made: 'Der Bericht ist erstellt.',
    save: 'Datei speichern',
    savePdf: 'Als PDF speichern, zum Drucken',
    share: 'Bericht senden',
    frame: 'Der Bericht',
    leaveOut: 'In dieser Kopie weglassen',
    leaveOuts: keys({ customer: 'Name des Kunden', car: 'Kennzeichen und FIN' }),
    leaveOutNote:
      'Fotos bleiben, wie sie sind: sehen Sie nach, ob eines einen Namen oder ein Kennzeichen zeigt.',
    namedTexts: 'Diese eingegebenen Texte enthalten es. Keiner wird teilweise geändert.',
    holdsName: (holds: string, goes: boolean) =>
      goes ? `Enthält „${holds}“: bleibt ganz weg.` : `Enthält „${holds}“: bleibt, wie er ist.`,
    wordTexts: 'Texte mit nur einem Wort des Namens',
    wordTextChoices: keys({ leave: 'Ganz weglassen', keep: 'Behalten: dort kein Name' }),
    reads: 'Der Kunde liest',
    fileName: (title: string, form: 'html' | 'pdf') =>
      `bericht-${title.trim().replace(/[^\p{L}\p{N}]+/gu, '-') || 'auftrag'}.${form}`,
  },

  costs: {
    open: 'Preise eintragen (freiwillig)',
    explain:
      'Was jedes kostet, im Brief und auf der Seite für den Kunden. Was leer bleibt, gilt als „nicht angegeben“.',
    added: (what: string) => `Zusatz zum Preis für: ${what}`,
    addedHint: 'mit Steuer, ohne Teile',
    keep: 'Preise speichern',
  },

  reports: {
    title: 'Erstellte Berichte',
    list: (n: number) => `Bisher erstellt: ${many(n, 'Bericht', 'Berichte')}`,
    back: 'Zurück zum Bericht',
    form: (form: 'page' | 'paper' | null): string =>
      form === 'page' ? 'als Seite' : form === 'paper' ? 'für Papier' : '',
    shared: 'dem Kunden gezeigt',
    stands: 'Er gilt.',
    superseded: (when: string) => `Ersetzt durch den Bericht von ${when}.`,
    withdrawn: (when: string, reason: string) => `Zurückgezogen ${when}: ${reason}`,
    withdraw: 'Zurückziehen',
    withdrawNow: 'Jetzt zurückziehen',
    reason: 'Warum? Das liest der Kunde.',
  },

  customer: {
    explain:
      'Ein Link nur für diesen Kunden. Er öffnet den Bericht auf dem Server der Werkstatt; dort antwortet der Kunde auf jeden Rat. Der Link wird einmal gezeigt.',
    link: 'Link erzeugen',
    toLinks: 'Zum Link',
    ask: 'Der Kunde antwortet im Bericht selbst auf jeden Rat: einverstanden, abgelehnt oder Rückfrage.',
    later: 'Die Antwort kommt später',
    another: 'Noch einen Link erzeugen',
    days: 'Offen für',
    dayChoices: [
      { id: '7', label: '7 Tage' },
      { id: '30', label: '30 Tage' },
      { id: '90', label: '90 Tage' },
    ],
    code: 'Code verlangen',
    codeChoices: keys({ no: 'Ohne Code', yes: 'Code am Telefon' }),
    shown: 'Den Kunden scannen lassen oder senden.',
    qr: 'Der Link als QR-Code',
    tell: (code: string) => `Diesen Code am Telefon sagen: ${code}`,
    made: (when: string) => `Erzeugt ${when}.`,
    until: (day: string) => `Offen bis ${day}.`,
    copy: 'Link kopieren',
    copied: 'Kopiert.',
    sync: 'Der Server braucht den Auftrag, ehe der Link aufgeht: jetzt abgleichen.',
    open: 'Offene Links',
    close: 'Schließen',
    closing: 'Link wird geschlossen…',
    none: 'Noch keine Antwort.',
    by: (name: string, when: string) => (name ? `${name}, ${when}` : when),
    says: (answers: number, links: number) =>
      answers > 0
        ? many(answers, 'Antwort', 'Antworten')
        : links > 0
          ? 'noch keine Antwort'
          : 'noch nicht gefragt',
  },

  sync: {
    explain:
      'Die Werkstatt hat einen eigenen Server. Er zeigt ein Bild für die Kamera dieses Telefons, dazu Adresse, Einmalcode und Fingerabdruck: einmal eingeben, dann kennen sich beide.',
    isHub: 'Das ist der Server selbst: was hier geschrieben wird, steht sofort im Buch.',
    showCode: 'Einmalcode zeigen',
    phonesPair: 'Telefone melden sich mit seiner Adresse und dem gezeigten Einmalcode an.',
    address: 'Adresse',
    addressHint: 'https://…',
    code: 'Einmalcode',
    fingerprint: 'Fingerabdruck seines Zertifikats',
    fingerprintHint: 'die ersten 20 Ziffern',
    first: 'Zuerst Adresse und Code',
    pair: 'Beim Server anmelden',
    now: 'Jetzt abgleichen',
    other: 'Bei anderem Server anmelden',
    hub: (address: string) => `Angemeldet bei ${address}.`,
    last: (when: string) => `Letzter Abgleich: ${when}.`,
    never: 'Noch kein Abgleich.',
    waiting: (lines: number, photos: number) =>
      lines + photos === 0
        ? 'Der Server hat alles.'
        : `Es warten: ${many(lines, 'Zeile', 'Zeilen')}, ${many(photos, 'Foto', 'Fotos')}.`,
  },

  record: {
    byClass: 'Nach der Art, die sie nannte',
    bySize: 'Nach Größe',
    calibrate: 'Die Arten in neuen Zählungen kalibrieren',
    calibrates: keys({ off: 'Nein', on: 'Ja' }),
    repeats: 'Wie gut Fotos sich wiederholen',
    repeatsExplain:
      'Nach ISO 5725 aus Fotos eines Abstrichs, die dieselbe Stelle zeigen, wie die Maschine sie las, ohne Berichtigungen.',
  },

  codeTable: {
    title: 'Worauf Codes zeigen',
    explain:
      'Eine Tabelle verbindet Codes mit Arten von Teilen, damit ein Messwert zu einem Code passt. Eine Werkstatt kann eigene Zeilen aus einer Datei voranstellen.',
    says: (rows: number, own: number) =>
      `${many(rows, 'Zeile', 'Zeilen')}, ${own === 0 ? 'keine eigenen' : `davon ${own} eigene`}.`,
    file: 'Datei mit Zeilen',
    add: 'Eigene Zeilen aus Datei nehmen',
    added: (name: string) => `Übernommen: ${name}`,
    show: 'Eigene Zeilen ansehen',
    remove: 'Eigene Zeilen entfernen',
    gone: 'Entfernt: eigene Zeilen',
  },

  procedures: {
    explain:
      'Eine Werkstatt kann einen eigenen Arbeitsablauf aus einer Datei hinzufügen, oder eine neue Fassung. Aufträge behalten die Fassung, mit der sie begannen.',
    file: 'Datei des Arbeitsablaufs',
    add: 'Arbeitsablauf aus Datei nehmen',
    added: (name: string) => `Hinzugefügt: ${name}`,
    newJob: (title: string) => `Neuer Auftrag: ${title}`,
    says: (version: number, steps: number, builtIn: boolean) =>
      `Fassung ${version}, ${many(steps, 'Schritt', 'Schritte')}${builtIn ? ', mitgeliefert' : ''}`,
  },
};
