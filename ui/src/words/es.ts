/**
 * Every text of the screens, in Spanish: workshop Spanish, short; what is to be done
 * in the infinitive, and «usted» only where a customer reads it.
 */
import { rowIn } from '../door/tables';
import type { ComponentKind } from '../door/types/ComponentKind';
import type { PhotoSubject } from '../door/types/PhotoSubject';
import { readingTable } from '../door/types/readingTable';
import type { WantView } from '../door/types/WantView';
import type { Words } from './en';

/** «1 foto», «3 fotos» */
const many = (n: number, one: string, more: string): string => `${n} ${n === 1 ? one : more}`;
const keys = <T extends string>(pairs: Record<T, string>) =>
  (Object.entries(pairs) as [T, string][]).map(([id, label]) => ({ id, label }));
const figures = new Intl.NumberFormat('es', { maximumFractionDigits: 4, useGrouping: false });
const figure = (n: number): string => figures.format(n);

const subjects: Record<PhotoSubject, string> = {
  patch: 'El papel de muestra',
  patch_after_magnet: 'El papel tras el imán',
  pan: 'El cárter',
  magnet: 'El imán',
  place: 'Dónde va',
  filter: 'El filtro',
  part: 'La pieza',
  leak: 'El sitio revisado',
  other: 'Una foto',
};

export const es: Words = {
  app: 'Swarfbook',
  subjects,

  door: {
    unreachable: 'El almacén no responde.',
    unreachableDo:
      'Comprobar que el servidor del taller esté en marcha y al alcance, y volver a intentarlo.',
    typedKept: 'Nada de lo escrito se pierde.',
    typedHere:
      'Dejar esta página abierta: este navegador no guarda nada, así que lo escrito está solo aquí.',
    stranger: 'Este navegador no se conoce aquí.',
    strangerDo: 'Abrir la dirección que dio el servidor.',
    strange: (status: number) => `La respuesta no se puede leer (${status}).`,
    strangeDo: 'Volver a intentarlo.',
    broke: (said: string) => `Eso no funcionó: ${said}`,
    brokeDo: 'Volver a intentarlo.',
  },

  busy: {
    file: 'Haciendo el archivo…',
    opening: 'Abriendo…',
    writing: 'Anotando…',
    undoing: 'Deshaciendo…',
    photo: 'Guardando la foto…',
    reading: 'Leyendo la foto…',
    report: 'Escribiendo el informe…',
    syncing: 'Preguntando al servidor…',
  },

  thumb: {
    undo: 'Deshacer',
    undoKey: 'Des\u00adhacer',
    undoWhat: (what: string) => `Deshacer: ${what}`,
    takenBack: (what: string) => `Deshecho: ${what}`,
    camera: 'Cámara',
    back: 'Volver',
    toJob: 'Volver al paso',
    tryAgain: 'Volver a intentarlo',
    writeAnyway: 'Anotar de todos modos',
    changeIt: 'Cambiarlo',
    understood: 'Entendido',
    nothingNext: 'Ahora no hay nada que pulsar',
  },

  standing: {
    later: 'más tarde',
    in_hand: 'en curso',
    done: 'hecho',
    skipped: 'omitido',
    passed: 'no después de «Abrir»',
  },

  spine: {
    label: 'Etapas',
    knot: (number: number | string, title: string, standing: string) =>
      `${number} ${title}, ${standing}`,
    step: (title: string, standing: string) => `${title}, ${standing}`,
    more: 'Más',
    far: (done: number, all: number) => `${done} de ${all} etapas`,
  },

  keypad: {
    label: 'Teclas de números',
    point: 'coma',
    mark: ',',
    erase: 'borrar',
    thousand: 'tres ceros',
    letters: 'Teclas de letras',
    dash: 'guion',
    space: 'espacio',
    names: { '-': 'más o menos', '>': 'más de', k: 'kilo', M: 'mega', OL: 'OL' },
    keyboard: 'El teclado del teléfono',
    less: (what: string) => `menos: ${what}`,
    more: (what: string) => `más: ${what}`,
  },

  firstRun: {
    hello: 'Un cuaderno para trabajar en cajas automáticas. Seis datos y se puede empezar.',
    card: 'La tarjeta de medida',
    cardWhy: 'Está en cada foto y le da la escala. Imprimirla una vez, al 100 %.',
    begin: 'Empezar',
    nameFirst: 'Primero el nombre',
  },

  tour: {
    title: 'Un vistazo',
    at: (at: number, all: number) => `${at} de ${all}`,
    next: 'Siguiente',
    end: 'A los trabajos',
    leave: 'Salir',
    pages: [
      {
        drawing: 'secured',
        title: 'Un paso, una pulsación',
        text: 'Cada paso muestra qué hacer y con qué tener cuidado. El botón naranja de abajo es lo que sigue. Los dibujos del lado son las etapas: al pulsar uno se va allí, en cualquier orden.',
      },
      {
        drawing: 'patch',
        title: 'La tarjeta está en cada foto',
        text: 'Imprimir la tarjeta de medida al 100 %. Junto a los residuos da a la foto su escala. La aplicación cuenta las partículas; el recuento se corrige y se confirma a mano.',
      },
      {
        drawing: 'resistance',
        title: 'Mediciones en una hoja',
        text: 'Nombrar las piezas y los límites del fabricante una vez. Cada medición dice en una palabra grande lo que resulta, con sonido y vibración, y la pieza siguiente queda lista.',
      },
      {
        drawing: 'report',
        title: 'Anotado al momento, siempre se deshace',
        text: 'Cada pulsación está en el registro antes de que la pantalla lo diga, con o sin cobertura. «Deshacer» quita la última. Al final, el registro es el informe firmado para el cliente.',
      },
    ],
  },

  settings: {
    language: 'Idioma',
    technician: 'Nombre, como va en el informe',
    shop: 'Nombre del taller',
    address: 'Dirección',
    telephone: 'Teléfono',
    hand: '¿Qué pulgar trabaja?',
    hands: keys({ left: 'Izquierdo', right: 'Derecho' }),
    paper: 'Pantalla',
    papers: keys({ bay: 'oscura', desk: 'clara' }),
    glove: 'Guantes',
    gloves: keys({ off: 'Sin guantes', on: 'Con guantes: más grande' }),
    meter: 'El multímetro',
    sound: 'Después de una medición',
    sounds: keys({ on: 'Sonido y vibración', off: 'En silencio' }),
    guard: '¿Qué seguridad hace falta para decir dentro o fuera de límites?',
    guardExplain:
      'Una medición cerca de un límite y menos segura que esto es «demasiado justo». Lo usual es 95 %.',
    guards: [
      { id: '0.5', label: '50 %: sin margen' },
      { id: '0.8', label: '80 %' },
      { id: '0.95', label: '95 %' },
      { id: '0.99', label: '99 %' },
    ],
    market: '¿Dónde se vendieron los vehículos?',
    markets: keys({
      north_america: 'EE. UU. o Canadá',
      elsewhere: 'en otro sitio',
      unknown: 'ambos, o no se sabe',
    }),
    keep: 'Guardar',
  },

  files: {
    title: 'Una exportación',
    explain:
      'Se importa todo lo que falta en este dispositivo: trabajos, fotos, clientes. Lo que ya está aquí queda como está.',
    none: 'No hay nada que importar.',
    takeIn: 'Importarla',
    cameIn: (lines: number, photos: number) =>
      `${many(lines, 'línea', 'líneas')} y ${many(photos, 'foto', 'fotos')}: importado.`,
    lies: (place: string) => `El archivo está guardado: ${place}`,
    card: 'tarjeta-de-medida.pdf',
    checker: 'comprobar-un-informe.html',
    noChecker: 'La página que comprueba un informe no está en esta aplicación.',
    askHub: 'El servidor del taller la muestra en /verify.',
  },

  units: {
    label: '¿Qué unidades?',
    of: {
      distance: 'Distancia recorrida',
      temperature: 'Temperatura',
      torque: 'Par de apriete',
      volume: 'Aceite',
      length: 'Largo de los tornillos',
    },
  },

  jobs: {
    label: 'Trabajos',
    count: (n: number) => many(n, 'trabajo', 'trabajos'),
    newJob: 'Trabajo nuevo',
    more: 'Más',
    find: 'Buscar',
    search: 'Buscar un trabajo',
    searchHint: 'matrícula, vehículo, cliente',
    untitled: 'Aún sin matrícula',
    emptyTitle: 'El cuaderno está vacío.',
    emptyText:
      'Un trabajo empieza con el vehículo en el elevador: matrícula, queja, códigos. Después el cuaderno lleva por el cárter, las pruebas y el informe, una cosa tras otra.',
    emptyNext:
      'Nada necesita cobertura. Cada pulsación se anota al momento, y siempre se puede deshacer.',
    noneFound: (search: string) => `Ningún trabajo coincide con «${search}».`,
  },

  job: {
    one: 'Trabajo',
    demo: 'demostración inventada',
    notebook: 'Cuaderno',
    steps: (stage: string) => `Pasos de ${stage}`,
    stepOf: (at: number, all: number) => `paso ${at} de ${all}`,
    finished: 'Todo está hecho u omitido. El informe está en Más.',
  },

  step: {
    caution: 'Cuidado',
    tick: (title: string) => `Marcar: ${title}`,
    toHand: (title: string) => `Al paso en curso: ${title}`,
    isDone: 'Hecho.',
    notYet: 'Todavía no: ver arriba',
    isSkipped: (reason: string) => `Omitido: ${reason}`,
    isPassed: 'Se decidió abrir la caja, así que no se pasa por este paso. Aun así se puede hacer.',
    why: '¿Por qué?',
    note: 'Nota',
    leaveOut: 'Omitir, con un motivo',
    leaveOutTitle: (title: string) => `Omitir: ${title}`,
    leaveOutWith: (reason: string) => `Omitirlo: ${reason}`,
    reason: 'Por qué se omite',
    reasonFirst: 'Primero el motivo',
    reasons: [
      'este vehículo no lo tiene',
      'el cliente no lo quiere',
      'los datos del fabricante dicen otra cosa',
      'hecho antes',
      'no se llega',
      'en la próxima visita',
    ],
    notNow: 'Volver al paso',
  },

  note: {
    title: (step: string) => `Nota en: ${step}`,
    text: 'Con palabras propias',
    who: '¿Quién la lee?',
    whos: keys({ report: 'En el informe', private: 'Solo el taller' }),
    keep: 'Anotar la nota',
    first: 'Primero el texto',
  },

  more: {
    title: 'Más',
    jobs: 'Todos los trabajos',
    hand: 'Volver al paso',
    pan: 'El cárter y el índice',
    parts: 'Piezas quitadas',
    bench: 'Piezas eléctricas',
    photos: 'Fotos',
    log: 'El registro entero',
    report: 'El informe',
    customer: 'La respuesta del cliente',
    reports: (n: number) => (n === 0 ? 'aún sin hacer' : many(n, 'hecho', 'hechos')),
    card: 'La tarjeta de medida, para imprimir',
    checker: 'La página que comprueba un informe',
    everything: 'Todo lo de aquí en un archivo',
    settings: 'Nombre, idioma, mano, pantalla',
    procedures: 'Procedimientos',
    record: 'Cuántas veces acertó el programa',
    sync: 'Servidor del taller',
  },

  log: {
    machine: 'El programa: ',
    takenBack: 'deshecho',
    unsigned: 'sin firmar',
    takeBack: 'Deshacer esta línea',
    takeBackShort: 'Deshacer',
    redo: 'Rehacer esta línea',
    redoShort: 'Rehacer',
    keepIt: 'Cancelar',
    choose: (what: string) => `Deshacer: ${what}`,
    chooseRedo: (what: string) => `Rehacer: ${what}`,
    short: (lines: number, last: string, at: string) =>
      `${many(lines, 'línea', 'líneas')}, última: ${last}, ${at}`,
    by: (name: string) => `de ${name}`,
    reason: 'Por qué (puede quedar vacío)',
  },

  want: {
    several: 'Pueden ser varios: pulsar cada uno y anotar.',
    whatItIs: 'Qué es',
    sayWhat: 'Decir qué es',
    label: (want: WantView): string => {
      switch (want.kind) {
        case 'car':
          return 'El vehículo';
        case 'complaint':
          return 'La queja';
        case 'codes':
          return want.moment === 'before' ? 'Códigos al llegar' : 'Códigos después del trabajo';
        case 'go_ahead':
          return 'Autorización';
        case 'parts_off':
          return 'Piezas quitadas';
        case 'parts_back':
          return 'Piezas montadas';
        case 'census':
          return 'Los recuentos';
        case 'components':
          return 'Piezas eléctricas';
        case 'readings':
          // In English until the core has its table in Spanish.
          return rowIn(readingTable.en, want.quantity).label;
        case 'explains':
          return 'Lo que explica';
        case 'decision':
          return 'Decisión';
        case 'replace':
          return `Cambiado: ${want.what}`;
        case 'tighten':
          return `Apretado: ${want.what}`;
        case 'report':
          return 'El informe';
        case 'answer':
          return 'La respuesta del cliente';
        default:
          return want.label;
      }
    },
    row: (label: string, state: string) => `${label}: ${state}`,
    have: 'anotado',
    missing: 'pendiente',
    optional: 'opcional',
    choose: 'Pulsar una de las teclas',
    enter: (label: string) => `${label}: introducir`,
    write: (what: string) => `Anotar: ${what}`,
    offers: (label: string) => `${label}: teclas`,
    enough: 'No hay más de estos',
  },

  photo: {
    take: (label: string) => `Foto: ${label}`,
    another: (label: string) => `Otra foto: ${label}`,
    open: (what: string) => `Abrir la foto: ${what}`,
    again: 'Repetir la foto',
    againShort: 'Repetir',
    takenAgain: 'repetida',
    none: 'Aún no hay fotos.',
  },

  camera: {
    title: (subject: string) => `Cámara: ${subject}`,
    live: 'Lo que ve la cámara',
    still: 'La foto tal como se hizo',
    held: 'Hasta que se guarde, esta foto está solo en esta página: si la página se recarga o se cierra, se pierde.',
    shoot: 'Hacer la foto',
    opening: 'Abriendo la cámara…',
    keep: 'Guardar esta foto',
    tryAgain: 'Volver a probar la cámara',
    refused:
      'No se puede abrir la cámara en la aplicación. Permitirla en los ajustes del teléfono o del navegador, o usar uno de los dos botones de abajo.',
    file: 'Archivo de foto',
    system: 'Cámara del teléfono',
    torch: 'Luz',
    itself: 'Automático',
    told: 'Al pulsar',
    advice: {
      good: 'Bien: no mover',
      dark: 'Demasiado oscuro: acercar una luz',
      glare: 'Reflejo: apartar la luz',
      no_card: 'Mostrar la tarjeta de medida entera',
      tilted: 'Sostenerlo recto encima',
      far: 'Acercarse',
      blurred: 'Borroso: no mover',
    },
    lift: {
      top: 'Levantar el borde de arriba',
      right: 'Levantar el borde derecho',
      bottom: 'Levantar el borde de abajo',
      left: 'Levantar el borde izquierdo',
    },
    loud: 'Con sonido',
    silent: 'Sin sonido',
    doing: ['Guardar la foto', 'Encontrar la tarjeta, las partículas y su tipo'],
    figures: (tilt: number, pxPerMm: number) =>
      `${Math.round(tilt)}° de inclinación, ${Math.round(pxPerMm)} px/mm`,
    hold: 'De lado: el teléfono nivelado encima, la tarjeta de medida a la misma altura.',
    how: {
      patch: 'Recto desde arriba, la tarjeta de medida al lado, sin reflejos.',
      patch_after_magnet: 'El mismo sitio, después del imán; la tarjeta de medida al lado.',
      pan: 'Recto desde arriba, sin limpiar nada, la tarjeta de medida dentro.',
      magnet: 'Tal como está, antes de limpiarlo; si hay sitio, la tarjeta de medida a su altura.',
      place: 'De modo que otra persona pudiera montarlo.',
    },
  },

  stray: {
    title: 'De la cámara del teléfono',
    waits: (n: number) =>
      `De la cámara del teléfono, ${many(n, 'foto no entró', 'fotos no entraron')} en ningún trabajo, porque entretanto se cerró la aplicación. Abrir el trabajo, luego Más.`,
    explain: (when: string) =>
      `La hizo la cámara del teléfono (${when}), y entretanto se cerró la aplicación. ¿Es de este paso?`,
    torn: (when: string) =>
      `La cámara del teléfono dejó un archivo (${when}) que no es una foto entera. Repetirla.`,
    picture: (when: string) => `La foto de ${when}`,
    subject: 'Qué muestra',
    leave: 'Descartar esta foto',
    leaveShort: 'Descartar',
    leaving: 'Entonces no entra en ningún trabajo y no se pregunta más por ella.',
    reallyLeave: 'Descartarla del todo',
    keepAfterAll: 'No descartarla',
    keepShort: 'Cancelar',
    later: 'Más tarde',
    none: 'Aquí no espera ninguna foto.',
  },

  car: {
    plate: 'Matrícula',
    description: 'El vehículo',
    descriptionHint: 'color, carrocería, caja',
    vin: 'VIN',
    odometer: 'Kilometraje',
    changed: 'Último cambio de aceite a los (vacío: nadie lo sabe)',
    owner: 'Propietario',
    contact: 'Teléfono o correo',
    plateFirst: 'Primero matrícula o VIN',
    odometerNext: 'Ahora el kilometraje',
  },

  gearbox: {
    unit: 'La caja que lleva',
    units: {
      original: 'la original',
      rebuilt: 'reconstruida',
      new: 'otra, nueva',
      used: 'otra, usada',
      unknown: 'no se sabe',
    },
    unitAt: 'Se montó a los (kilometraje)',
    first: '¿Es su primer servicio?',
    firsts: { yes: 'sí', no: 'no', unknown: 'no se sabe' },
    wiped: '¿En el último servicio se quitó el cárter y se limpiaron los imanes?',
    wipeds: { yes: 'sí', no: 'no', never: 'nunca se quitó', unknown: 'no se sabe' },
  },

  meter: {
    own: 'multímetro propio',
    byLeaflet: 'Introducir su exactitud',
    explain: 'De su manual: ± (porcentaje de la lectura + unidades del último dígito).',
    percent: 'Porcentaje de la lectura',
    counts: 'Dígitos',
    take: (percent: string, counts: string) =>
      `Este multímetro: ±${percent || '…'} % + ${counts || '…'}`,
  },

  tools: {
    title: 'Números de las herramientas',
    explain:
      'Un perito pregunta por ellos. Cada uno se pide una vez y está en el anexo del informe; lo que queda vacío figura allí como “no indicado”.',
    wrench: 'llave dinamométrica',
    serial: (name: string) => `Número de serie: ${name}`,
    calibrated: (name: string) => `Calibrado el: ${name}`,
    cardLine: 'La línea de 150 mm de la hoja de la tarjeta de medida, tal como se mide',
    cardDay: 'Medida el',
  },

  trend: {
    plot: 'Partículas en 10\u00a0000 km en cada visita, con intervalos del 90 %',
    axis: 'Partículas de desgaste en 10\u00a0000 km; lleno: esta visita.',
    now: 'ahora',
    visits: 'Visitas, la más antigua primero',
  },

  vin: {
    scan: 'VIN: leer su código de barras',
    file: 'VIN: de un archivo de foto',
    fromPhoto: 'VIN de la foto hecha aquí',
    read: (vin: string, format: string) =>
      `Leído del ${format}: ${vin}. Compararlo con el vehículo.`,
  },

  complaint: {
    words: 'Con las palabras del cliente',
    what: '¿Qué hace?',
    when: '¿Cuándo se nota?',
    keep: 'Anotar la queja',
    first: 'Primero el texto',
  },

  codes: {
    label: 'Códigos leídos',
    state: 'Guardado o pendiente',
    states: { stored: 'guardado', pending: 'pendiente' },
    stateKeys: keys({ pending: 'Pendiente', stored: 'Guardado' }),
    typing: 'El código que se escribe',
    pad: 'Teclas de códigos',
    remove: (code: string) => `Quitar ${code}`,
    takeOut: 'quitar',
    status: 'cambiar',
    statusOf: (code: string) => `Byte de estado de ${code}`,
    bitsOf: (code: string) => `Bits de estado de ${code}`,
    noStatus: 'Sin estado',
    orTap: 'o pulsar los bits activos:',
    bits: [
      'falla ahora',
      'falló en este ciclo',
      'pendiente',
      'confirmado',
      'sin probar desde el borrado',
      'falló desde el borrado',
      'sin probar en este ciclo',
      'luz de aviso',
    ],
    inBytes: 'Código en hexadecimal',
    inLetters: 'Código en letra y cifras',
    takeBytes: (bytes: string) => `Tomar ${bytes}`,
    failureType: (code: string) => `Tipo de fallo de ${code}`,
    finish: (typing: string) => `Terminar ${typing}…`,
    noneKey: 'Ningún código',
    none: 'Anotar: ningún código',
    first: 'Un código, o «Ningún código»',
    stateFirst: '¿Guardado o pendiente?',
    write: (n: number) => `Anotar: ${many(n, 'código', 'códigos')}`,
  },

  goAhead: {
    /** Who and how in one key. */
    ways: (who: string) =>
      keys({
        in_person: `${who}, en persona`,
        phone: `${who}, por teléfono`,
        message: `${who}, por escrito`,
      }),
    other: 'Quién aceptó, si fue otra persona',
    amount: 'Otro importe',
    by: 'Quién aceptó',
    customer: 'el cliente',
    amounts: 'Importes redondos',
    how: 'Cómo',
    hows: keys({ in_person: 'En persona', phone: 'Por teléfono', message: 'Por escrito' }),
    limit: 'Lo más que puede costar antes de volver a preguntar',
    currency: 'Moneda',
    currencies: (now: string) =>
      [...new Set([now, 'EUR', 'USD', 'MXN'])].slice(0, 4).map((id) => ({ id, label: id })),
    whos: 'Quién aceptó, para elegir',
    whoFirst: '¿Quién aceptó?',
    howFirst: '¿Cómo aceptó?',
    limitFirst: '¿Hasta cuánto, o sin límite?',
    limits: 'Límite',
    noLimitKey: 'Sin límite acordado',
    upTo: (who: string, amount: string) => `Anotar: ${who}, hasta ${amount}`,
    noLimit: (who: string) => `Anotar: ${who}, sin límite`,
  },

  parts: {
    label: 'Piezas quitadas',
    item: 'Qué se quitó',
    ownItem: 'Qué se quitó, con palabras propias',
    items: [
      'tornillos M6',
      'tornillos M8',
      'tornillos',
      'tuercas',
      'tornillos de chapa',
      'tirante',
      'bandeja',
      'soporte',
      'chapa térmica',
      'grapa',
      'tapón',
    ],
    /** Those that have a size and a length. */
    fasteners: ['tornillos', 'tuercas', 'tornillos de chapa'],
    count: 'Cuántos',
    countKeys: 'Tantos',
    size: 'Medida',
    sizes: ['M5', 'M6', 'M8', 'M10'],
    length: 'Largo',
    place: 'Dónde vuelve a ir',
    places: ['cárter', 'delante', 'detrás', 'izquierda', 'derecha', 'centro'],
    photo: 'Foto del sitio',
    photoOf: (what: string, n: number) => `${what}, ${n}`,
    tapPlaces: (n: number) =>
      n === 0 ? 'Pulsar cada sitio en la foto.' : `${many(n, 'sitio', 'sitios')} en la foto.`,
    lastPlace: 'Quitar el último sitio',
    say: (count: string, item: string, size: string, length: string) =>
      [count, item, size, length && `× ${length}`].filter(Boolean).join(' '),
    off: (what: string) => `Quitado: ${what}`,
    change: (what: string) => `${what}: cambiar`,
    itemFirst: '¿Qué se quitó?',
    countFirst: '¿Cuántos?',
    placeFirst: '¿Dónde va?',
    enoughOff: 'No se quitó nada más',
    stillOff: (n: number) => (n === 0 ? 'no hay nada quitado' : `${n} sin montar`),
    nothing: 'No se quitó nada.',
    standing: (off: number, count: number) =>
      off === 0 ? 'todo montado' : off === count ? 'quitado' : `${off} de ${count} sin montar`,
    back: (n: number) => (n === 1 ? 'Uno montado' : `Los ${n} montados`),
    backName: (n: number, what: string) =>
      `${n === 1 ? 'Uno montado' : `Los ${n} montados`}: ${what}`,
    lost: 'Perdido o dañado',
    lostHow: 'Qué pasó con ello',
    writeLost: 'Anotar: uno perdido',
    laterBack: (n: number) => `Seguir, ${n} sin montar`,
    putBack: (n: number) => `${n} sin montar`,
    allBack: 'Todo está montado',
  },

  bench: {
    label: 'Piezas eléctricas',
    kind: '¿Qué es?',
    kindFirst: '¿Qué es?',
    poles: 'Su otro polo',
    byCase: keys({ case: 'A masa por la carcasa (un cable)' }),
    name: 'Nombre en el esquema del fabricante',
    names: 'Nombres para elegir',
    nameFirst: '¿Cuál es?',
    named: (name: string) => `Su nombre: ${name}`,
    change: (what: string) => `${what}: cambiar`,
    suggest: (kind: ComponentKind): string[] =>
      kind === 'temperature_sensor'
        ? ['Temperatura del aceite']
        : kind === 'speed_sensor'
          ? ['Velocidad de entrada', 'Velocidad de salida']
          : kind === 'other'
            ? []
            : [...'ABCDEFGH'].map((letter) => `Solenoide ${letter}`),
    connector: 'Conector: color o marca',
    number: 'Número de pieza',
    codes: 'Códigos que la nombran',
    low: 'Límite desde',
    high: 'Límite hasta',
    at: 'a',
    source: 'De dónde salen los límites',
    sourceHint: 'manual del fabricante, página…',
    sources: 'Datos de quién',
    sourceKeys: [
      'manual del fabricante',
      'datos en línea del fabricante',
      'hoja de datos de la pieza',
    ],
    sets: 'Las piezas de una caja que ya estuvo aquí',
    partsOf: (name: string, n: number) => `${name}: ${many(n, 'pieza', 'piezas')}`,
    keepSet: 'Guardar estas piezas para la próxima igual',
    setName: '¿Cómo se llama esta caja?',
    keepSetAs: (name: string) => `Guardar como: ${name}`,
    forgetSet: (name: string) => `Olvidar las piezas de ${name}`,
    moreLike: (name: string) => `Más como ${name}`,
    codeNames: (code: string) => `${code} nombra (datos del fabricante)`,
    oneMore: (name: string, like: string) => `${name}, como ${like}`,
    sourceFirst: '¿De dónde salen los límites?',
    sameLimits: (name: string, spec: string) => `Los límites de ${name}: ${spec}`,
    write: (name: string) => `Anotar: ${name} y sus límites`,
    writeBare: (name: string) => `Anotar: ${name}, sin límites`,
    enough: (n: number) => `No hay más: ${many(n, 'pieza', 'piezas')}`,
    replaced: 'cambiada',
    noSpec: 'sin límites anotados',
    how: 'Cómo se calculó',
    nothing: 'Aún no hay ninguna pieza eléctrica nombrada.',
    toReadings: 'A las mediciones',
  },

  limits: {
    of: 'Límites de',
    ofWhat: (what: string) => `Límites de: ${what}`,
    atKeys: 'Temperatura a la que valen los límites',
    atUnsaid: 'No se indica',
    atAssumed: (at: string) => `Se supone entonces unos ${at}, y el veredicto es menos seguro.`,
    atFirst: '¿A qué temperatura valen?',
    form: 'Cómo los da el fabricante',
    forms: keys({ range: 'A una temperatura', table: 'Una tabla', b_value: 'Un valor B' }),
    row: (n: number) => `Fila ${n} de la tabla`,
    celsius: 'A',
    moreRows: 'Una fila más (de frío a caliente)',
    tolerance: 'Tolerancia',
    b: 'Valor B',
    ohms: 'Resistencia',
    least: 'Al menos',
    more: 'más límites',
    moreOf: (name: string) => `Más límites: ${name}`,
    no: 'No hay más límites',
  },

  readings: {
    samples: 'Tomas',
    typed: 'Lo que muestra el multímetro',
    part: 'La temperatura de la pieza',
    field: (
      field: 'sample' | 'leads' | 'part' | 'top' | 'volts' | 'applied',
      value: string,
      degrees: string,
    ): string =>
      ({
        sample: value,
        leads: value ? `cables ${value} Ω` : 'cables: no se sabe',
        part: value ? `pieza ${value} ${degrees}` : `pieza: ${degrees} sin saber`,
        top: value ? `el multímetro llega a ${value} Ω` : 'hasta dónde llega: no se sabe',
        volts: value ? `medidor de aislamiento a ${value} V` : 'sin medidor de aislamiento',
        applied: value ? `${value} V en la pieza` : 'tensión en la pieza: sin medir',
      })[field],
    from: '¿Dónde se leyó esa temperatura?',
    froms: keys({
      probe_at_part: 'Sonda en la pieza (± 1 K)',
      infrared: 'Infrarrojo (± 3 K)',
      scan_data: 'Datos de diagnosis (± 3 K)',
      surroundings: 'Aire alrededor (± 3 K)',
    }),
    fromFirst: '¿Dónde se leyó?',
    testerCaution:
      'Desconectar la unidad de control y todos los sensores antes de que un medidor de aislamiento toque nada.',
    contact: 'Contacto probado por',
    contactWhy:
      'Una punta que se escapa es el falso abierto más común. Probar que los cables conducen; entonces se puede creer un abierto.',
    contactBy: {
      leads: '✓ contacto: cables juntos',
      sibling: (name: string) => `✓ contacto: se midió ${name}`,
      ticked: '✓ contacto probado',
      not: 'contacto: sin probar',
    },
    contactKeys: {
      leads: 'Cables juntos: introducir lo que dan',
      sibling: (name: string) => `${name}, medido con estos cables`,
      ticked: 'Probado, sin número',
      not: 'Sin probar',
    },
    appliedFirst: (name: string) => `Tensión en ${name}`,
    appliedCaution:
      'Con fusible, con la polaridad correcta y no más tiempo del que permite el fabricante. Nada en electrónica.',
    by: 'Corriente leída con',
    byFirst: '¿Con qué se lee la corriente?',
    bys: keys({ meter: 'Multímetro en serie', clamp: 'Pinza' }),
    click: 'Clic',
    clicks: keys({ heard: 'Se oyó el clic', none: 'Sin clic' }),
    leadsKeys: 'Cables juntos, Ω',
    leadsUnknown: 'Seguir sin saber los cables',
    meter: 'Multímetro',
    meterFirst: '¿Qué multímetro?',
    meterSays: (name: string, percent: number, counts: number) =>
      `${name} (±${figure(percent)} % + ${figure(counts)})`,
    take: (value: string) => `Tomar ${value}`,
    write: (samples: string) => `Anotar: ${samples}`,
    sameAgain: (value: string) => `${value} otra vez`,
    drop: (sample: string) => `Quitar la toma ${sample}`,
    toSamples: 'Ahora la medición',
    first: (name: string) => `Medir ${name}`,
    next: (name: string) => `Siguiente: ${name}`,
    enough: 'No hay más mediciones',
    partsFirst: 'Primero nombrar las piezas',
    noParts: 'Aún no hay ninguna pieza eléctrica nombrada. Ese es el paso anterior.',
    sheet: 'Piezas y lo que miden',
    row: (name: string, says: string) => `${name}: ${says}`,
    steady: (value: string) => `${value}, tres veces igual`,
    jumps: (value: string) => `Se mueve: dejar ${value} y mirar otra vez`,
    near: 'Cerca de lo que dan piezas iguales',
    asBefore: (value: string, name: string) => `${value} tres veces, como ${name}`,
    allOpen: (n: number) => `Las ${n} dan OL a masa`,
    plot: (value: string, verdict: string) => `${value}: ${verdict}`,
  },

  harness: {
    title: (part: string) => `Cables: ${part}`,
    drawing: 'De la unidad de control, a la izquierda, a la pieza, a la derecha; masa abajo.',
    how: 'De pin a pin y de cada pin a masa, en los dos lados: muestra qué tramo está abierto, en corto o con demasiada resistencia.',
    caution:
      'Contacto quitado, unidad de control desenchufada. Medir por detrás del conector o con la punta adecuada: una punta ancha abre el contacto.',
    control: 'En el conector de la unidad de control, con la pieza enchufada',
    part: 'La pieza sola, desenchufada',
    wires: 'Cada cable de punta a punta, desenchufado en los dos lados',
    looks: {
      c: (first: string, second: string) => `Pin ${first} a pin ${second}`,
      c1: (first: string) => `Pin ${first} a masa`,
      c2: (_: string, second: string) => `Pin ${second} a masa`,
      p: () => 'La pieza, de pin a pin',
      p1: (first: string) => `La pieza, pin ${first} a masa`,
      p2: (_: string, second: string) => `La pieza, pin ${second} a masa`,
      w1: (first: string) => `Cable del pin ${first}`,
      w2: (_: string, second: string) => `Cable del pin ${second}`,
      leads: () => 'Puntas de medida juntas',
    },
    blank: '– Ω',
    pin: (n: 1 | 2) => `Nombre del pin ${n} en el esquema`,
    next: (look: string) => `Siguiente: ${look}`,
    first: (look: string) => `Medir: ${look}`,
    write: (n: number) => `Escribir: ${many(n, 'número', 'números')}`,
    open: (part: string) => `Los cables de ${part}`,
  },

  explains: {
    read: 'Visto',
    notYet: 'Aún no hay nada que valorar',
    nothing: 'Aún no hay ningún código ni medición que comparar con la queja.',
  },

  tighten: {
    torque: 'Par según los datos del fabricante',
    torqueFirst: 'El par, o al tacto',
    how: 'Cómo',
    hows: keys({
      feel: 'A mano, al tacto',
      angle: 'Par y ángulo',
      by_hand: 'Todos empezados a mano',
    }),
    angle: 'Después girar otros',
    angleFirst: 'El ángulo',
    byHandThen: (passes: number) => `Todos empezados a mano, después ${passes} pasadas`,
    byHandFirst: 'Pulsar «Todos empezados a mano» cuando lo estén',
    passes: 'Pasadas',
    passesFirst: '¿Cuántas pasadas?',
    write: (what: string, torque: string) => `Anotar: ${what} ${torque || 'al tacto'}`,
  },

  plan: {
    show: 'Orden y pasadas',
    picture: (n: number) => `Orden en cruz de ${n} tornillos, numerados`,
    passes: 'Pasadas, marcadas una tras otra',
    bolts: 'Cuántos tornillos',
    more: 'Con',
    mores: keys({ adapter: 'Adaptador en la llave', sealant: 'Sellador, sin junta' }),
    lever: 'Llave: del centro del mango al cuadradillo',
    length: 'Adaptador: del cuadradillo al tornillo',
    angle: 'Cómo está el adaptador respecto a la llave',
    angles: keys({ '0': 'en línea', '45': '45°', '90': 'en escuadra' }),
    tool: '¿Qué exactitud tiene la llave dinamométrica?',
    tools: keys({ none: 'No se dice', scale: 'Según su escala', percent: 'Según su certificado' }),
    most: 'Su escala acaba en (ISO 6789)',
    percent: 'Su certificado dice',
    isInstead: (torque: string) => `Es ${torque}`,
    isSure: (torque: string) => `Es ${torque}, como se escribió`,
    doubt: '¿Cuál es?',
  },

  replace: {
    component: 'Qué pieza',
    what: 'Qué se cambió',
    number: 'Número de la pieza nueva',
    batch: 'Lote o código de fecha',
    old: 'La vieja',
    olds: keys({ kept: 'Guardada para el cliente', not: 'No guardada' }),
    write: (what: string) => `Anotar: ${what}, pieza cambiada`,
    first: '¿Qué se cambió?',
    whats: 'Cambiado',
    oldFirst: '¿Dónde está la vieja?',
    enough: 'No se cambió nada más',
  },

  census: {
    lookAt: (what: string) => `Mirar: ${what}`,
    enough: 'Todos los recuentos confirmados',
    photosFirst: 'Primero fotos del cárter, los imanes y el papel de muestra',
    noPhotos: 'Aún no hay foto del cárter, de un imán ni de un papel de muestra.',
    notRead: 'Aún sin leer.',
    confirmed: '✓ Confirmado.',
    notConfirmed: '○ Aún sin confirmar.',
  },

  decision: {
    label: 'Qué se decide',
    choices: {
      carry_on: 'Terminar el trabajo',
      watch: 'Vigilar',
      test_first: 'Probar primero',
      open_up: 'Abrir',
    },
    tests: 'Siguiente:',
    advises: 'Consejo:',
    soFar: 'Con lo contado hasta ahora:',
    confirmFirst: (what: string) => `Confirmar antes: ${what}`,
    take: (choice: string) => `Decidir: ${choice}`,
    overrule: (choice: string) => `Contra el consejo: ${choice}`,
    reason: 'Por qué se decide otra cosa',
    reasonFirst: 'Primero el motivo',
    reasons: [
      'el cliente lo quiere así',
      'los residuos son de una reparación anterior',
      'visto con mis propios ojos: sano',
      'más de lo que muestra la foto',
    ],
    choose: '¿Qué se decide?',
    notYet: 'Aún no hay nada que valorar: confirmar antes un recuento.',
    was: (what: string) => `Decidido: ${what}`,
  },

  pan: {
    table: (name: string) => `Pesos: ${name}`,
    gauge: (numeral: number, band: string, score: number, lo: number, hi: number) =>
      `Grado ${numeral}, ${band}. Índice de desgaste ${score}, entre ${lo} y ${hi}.`,
    score: (score: number, lo: number, hi: number) => `índice ${score} (${lo} a ${hi}) de 100`,
    reasons: 'Motivos, primero los de más peso',
    share: (share: number) => `${Math.round(share * 100)} %`,
    more: (n: number) => (n === 1 ? '1 motivo más' : `${n} motivos más`),
    basis: 'En qué se basa',
    photo: 'Foto',
    seePhoto: (reason: string) => `La foto de: ${reason}`,
    missing: 'Aún no se sabe:',
    nothing:
      'Aún no se ha contado nada. El índice sale de las fotos del cárter, los imanes y el papel de muestra.',
  },

  review: {
    all: 'Todas las partículas',
    read: 'Leer esta foto',
    standBy: (n: number) => `Confirmar ${many(n, 'partícula', 'partículas')}`,
    piece: (number: number, of: number) => `Partícula ${number} de ${of}`,
    previous: 'Partícula anterior',
    next: 'Partícula siguiente',
    close: 'Cerrar la partícula',
    whatIsIt: '¿Qué es?',
    notDebris: 'no es residuo',
    redrawn: 'Contorno del técnico.',
    outline: '¿Es una sola partícula?',
    two: 'Dividir',
    cut: 'Cortar',
    join: 'Unir',
    cutAsk: 'Tocar a un lado de la partícula y después al otro.',
    joinAsk: 'Tocar la otra partícula.',
    leaveIt: 'Cancelar',
    samePlace: 'A qué foto pertenece',
    samePlaceAsk:
      'Lo que dos fotos muestran de un mismo sitio se cuenta una vez. Lo que se llevó un imán es acero.',
    alone: 'No hay ninguna foto anterior a la que pueda pertenecer.',
    machineSaid: (what: string) => `El programa dijo ${what}.`,
    likely: (p: number) => `${Math.round(p * 100)} % seguro`,
    pieces: 'Partícula',
    tabs: 'Sobre esta foto',
    panels: [
      { id: 'class', label: 'Tipos' },
      { id: 'size', label: 'Tamaños' },
      { id: 'limits', label: 'Límites' },
      { id: 'patch', label: 'Mismo sitio' },
      { id: 'help', label: 'Fijar la escala' },
    ],
    filterClass: 'Mostrar solo estos tipos',
    filterSize: 'Mostrar solo estos tamaños',
    showAll: 'Mostrar todo otra vez',
    count: (n: number, lo: number, hi: number) => `${n} (${Math.round(lo)} a ${Math.round(hi)})`,
    noSizes: 'Sin escala no hay tamaños.',
    belowSeen: '* Partículas tan pequeñas no se ven todas en esta foto.',
    scale: 'Escala:',
    cannot: 'Lo que esta foto no puede mostrar',
    zoom: 'Ampliar',
    out: 'Reducir',
    gestures:
      'Con dos dedos se amplía. Con un dedo se mueve, si está ampliada. Mantener pulsado: sin contornos.',
  },

  /** How to take a photo that can be read. */
  howTo: {
    title: 'Cómo fotografiar residuos',
    steps: [
      {
        id: 'spread',
        title: 'Extender fino',
        text: 'Verter o pasar el residuo a un papel blanco sin pelusa. Sin montones: las partículas que se tapan se cuentan como una.',
      },
      {
        id: 'card',
        title: 'Poner la tarjeta de medida al lado',
        text: 'Plana, limpia, a la misma altura, entera en la foto. Da la escala, el plano y el blanco.',
      },
      {
        id: 'hold',
        title: 'Sostener el teléfono nivelado encima',
        text: 'A un palmo, con luz de lado, sin reflejos. La flecha dice qué borde levantar.',
      },
    ],
    legend: 'Qué son las partículas',
    meanings: 'Práctica común, sin fuente publicada. El procedimiento del fabricante va primero.',
  },

  /** The pieces in their tray. */
  tray: {
    how: 'Tocar: está bien. Mantener: verla en la foto. %: qué seguridad.',
    heaps: {
      grave: 'Lo que más pesa en el índice',
      doubtful: 'En duda',
      sure: 'Seguro',
      not_debris: 'No es residuo',
    },
    confirmed: 'Confirmado',
    rest: (left: number, all: number) =>
      left === 0 ? `Confirmar las ${all}` : `El resto está bien: ${left}`,
    none: (n: number) => (n === 1 ? 'No es un residuo' : `Ninguna de estas ${n} es un residuo`),
    allKinds: 'Todos los tipos',
    inPhoto: 'En la foto',
    toPhoto: 'La foto',
    toTray: 'La bandeja',
    legend: 'Leyenda',
    letters: 'Letras',
    moreKeys: 'Más',
    lessKeys: 'Menos',
    lost: 'La foto no se puede mostrar aquí; las cifras valen.',
  },

  help: {
    label: 'Qué tocar',
    taps: 'Largo conocido',
    magnet: 'El imán',
    drop: 'Gota de aceite',
    ask: {
      taps: 'Tocar los dos extremos de algo de largo conocido: una cabeza de tornillo, una regla.',
      subject: 'Tocar el centro de la cara del imán.',
      fluid: 'Tocar el centro de la gota de aceite.',
    },
    known: 'Largos conocidos',
    lengths: keys({
      '8': 'cabeza de 8 mm',
      '10': 'cabeza de 10 mm',
      '13': 'cabeza de 13 mm',
      '50': 'regla de 50 mm',
    }),
    length: 'Largo entre los toques',
    where: 'Dónde se tocó',
    wheres: keys({ ground: 'en el fondo', subject: 'en el imán' }),
    readAgain: 'Leerla otra vez con esto',
    notYet: (mode: 'taps' | 'subject' | 'fluid', taps: number): string =>
      mode === 'subject'
        ? 'Tocar el imán'
        : mode === 'fluid'
          ? 'Tocar la gota'
          : taps === 0
            ? 'Tocar un extremo'
            : taps === 1
              ? 'Tocar el otro extremo'
              : '¿Cuánto mide?',
  },

  report: {
    look: 'Ver el informe',
    explain:
      'Se lee entero antes de hacerlo. Lo que se hace queda firmado y ya no se puede cambiar.',
    make: 'Hacer el informe',
    again: 'Escribirlo otra vez',
    made: 'El informe está hecho.',
    save: 'Guardar el archivo',
    savePdf: 'Guardarlo en PDF, para imprimir',
    share: 'Enviar el informe',
    frame: 'El informe',
    leaveOut: 'Omitir en esta copia',
    leaveOuts: keys({ customer: 'Nombre del cliente', car: 'Matrícula y VIN' }),
    leaveOutNote: 'Las fotos quedan como están: mirar si alguna muestra un nombre o una matrícula.',
    namedTexts: 'Estos textos escritos lo contienen. Ninguno se cambia en parte.',
    holdsName: (holds: string, goes: boolean) =>
      goes ? `Contiene «${holds}»: se omite entero.` : `Contiene «${holds}»: queda como está.`,
    wordTexts: 'Textos que solo contienen una palabra del nombre',
    wordTextChoices: keys({ leave: 'Omitir enteros', keep: 'Dejar: ahí no es nombre' }),
    reads: 'El cliente lee',
    fileName: (title: string, form: 'html' | 'pdf') =>
      `informe-${title.trim().replace(/[^\p{L}\p{N}]+/gu, '-') || 'trabajo'}.${form}`,
  },

  costs: {
    open: 'Poner precios (opcional)',
    explain:
      'Lo que cuesta cada cosa, en la carta y en la página del cliente. Lo que queda vacío dice “no indicado”.',
    added: (what: string) => `Añadido al precio de: ${what}`,
    addedHint: 'con impuestos, sin piezas',
    keep: 'Guardar los precios',
  },

  reports: {
    title: 'Informes hechos',
    list: (n: number) => `Hasta ahora: ${many(n, 'informe', 'informes')}`,
    back: 'Volver al informe',
    form: (form: 'page' | 'paper' | null): string =>
      form === 'page' ? 'como página' : form === 'paper' ? 'para papel' : '',
    shared: 'compartido con el cliente',
    stands: 'Vale.',
    superseded: (when: string) => `Sustituido por el que se hizo el ${when}.`,
    withdrawn: (when: string, reason: string) => `Retirado el ${when}: ${reason}`,
    withdraw: 'Retirarlo',
    withdrawNow: 'Retirarlo ahora',
    reason: '¿Por qué? Lo lee el cliente.',
  },

  customer: {
    explain:
      'Un enlace que solo recibe este cliente. Abre el informe en el servidor del taller, y allí contesta a cada consejo. El enlace se muestra una vez.',
    link: 'Hacer un enlace',
    toLinks: 'Al enlace',
    ask: 'El cliente contesta en el propio informe: aceptar, rechazar o preguntar, consejo por consejo.',
    later: 'La respuesta llega más tarde',
    another: 'Hacer otro enlace',
    days: 'Abierto',
    dayChoices: [
      { id: '7', label: '7 días' },
      { id: '30', label: '30 días' },
      { id: '90', label: '90 días' },
    ],
    code: 'Pedir un código',
    codeChoices: keys({ no: 'Sin código', yes: 'Código por teléfono' }),
    shown: 'Que el cliente lo escanee, o enviárselo.',
    qr: 'El enlace como código QR',
    tell: (code: string) => `Decirle este código por teléfono: ${code}`,
    made: (when: string) => `Hecho: ${when}.`,
    until: (day: string) => `Abierto hasta: ${day}.`,
    copy: 'Copiar el enlace',
    copied: 'Copiado.',
    sync: 'El servidor debe tener el trabajo antes de que el enlace se abra: sincronizar ahora.',
    open: 'Enlaces abiertos',
    close: 'Cerrar',
    closing: 'Cerrando el enlace…',
    none: 'Aún sin respuesta.',
    by: (name: string, when: string) => (name ? `${name}, ${when}` : when),
    says: (answers: number, links: number) =>
      answers > 0
        ? many(answers, 'respuesta', 'respuestas')
        : links > 0
          ? 'aún sin respuesta'
          : 'aún sin preguntar',
  },

  sync: {
    explain:
      'El servidor es el equipo del propio taller. Muestra una imagen para la cámara de este teléfono, y una dirección, un código de un solo uso y una huella: introducirlos una vez, y ambos se conocen.',
    isHub:
      'Este es el propio servidor: lo que se anota aquí está al momento en el cuaderno del taller.',
    showCode: 'Mostrar un código de un solo uso',
    phonesPair:
      'Los teléfonos se vinculan con él por su dirección y el código de un solo uso que muestra.',
    address: 'Dirección',
    addressHint: 'https://…',
    code: 'Código de un solo uso',
    fingerprint: 'Huella de su certificado',
    fingerprintHint: 'sus primeras 20 cifras',
    first: 'Primero dirección y código',
    pair: 'Vincular con el servidor',
    now: 'Sincronizar ahora',
    other: 'Vincular con otro servidor',
    hub: (address: string) => `Vinculado con ${address}.`,
    last: (when: string) => `Última sincronización: ${when}.`,
    never: 'Aún no se ha sincronizado.',
    waiting: (lines: number, photos: number) =>
      lines + photos === 0
        ? 'El servidor lo tiene todo.'
        : `Esperan: ${many(lines, 'línea', 'líneas')}, ${many(photos, 'foto', 'fotos')}.`,
  },

  record: {
    byClass: 'Por el tipo que dijo',
    bySize: 'Por tamaño',
    calibrate: 'Calibrar los tipos de los recuentos nuevos',
    calibrates: keys({ off: 'No', on: 'Sí' }),
    repeats: 'Cómo se repiten las fotos',
    repeatsExplain:
      'Calculado según ISO 5725 con fotos de un mismo papel de las que se dijo que muestran el mismo sitio, como las leyó el programa, sin correcciones.',
  },

  codeTable: {
    title: 'A qué apuntan los códigos',
    explain:
      'Una tabla une códigos con tipos de piezas, para comparar una medición con un código. Un taller puede poner sus propias filas delante, desde un archivo.',
    says: (rows: number, own: number) =>
      `${many(rows, 'fila', 'filas')}, ${own === 0 ? 'ninguna propia' : many(own, 'propia', 'propias')}.`,
    file: 'Archivo con filas',
    add: 'Poner filas propias desde un archivo',
    added: (name: string) => `Puesto: ${name}`,
    show: 'Ver las filas propias',
    remove: 'Quitar las filas propias',
    gone: 'Quitadas: las filas propias',
  },

  procedures: {
    explain:
      'Un taller puede añadir su propio procedimiento desde un archivo, o una versión nueva de uno. Los trabajos siguen con la versión con la que empezaron.',
    file: 'Archivo de procedimiento',
    add: 'Añadir un procedimiento desde un archivo',
    added: (name: string) => `Añadido: ${name}`,
    newJob: (title: string) => `Trabajo nuevo: ${title}`,
    says: (version: number, steps: number, builtIn: boolean) =>
      `versión ${version}, ${many(steps, 'paso', 'pasos')}${builtIn ? ', viene con el cuaderno' : ''}`,
  },
};
