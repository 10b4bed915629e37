app = Swarfbook

subjects-patch = El papel de muestra
subjects-patch-after-magnet = El papel tras el imán
subjects-pan = El cárter
subjects-magnet = El imán
subjects-place = Dónde va
subjects-filter = El filtro
subjects-part = La pieza
subjects-leak = El sitio revisado
subjects-other = Una foto
subjects-display = La pantalla del multímetro

door-unreachable = El almacén no responde.
door-unreachable-do = Comprobar que el servidor del taller esté en marcha y al alcance, y volver a intentarlo.
door-typed-kept = Nada de lo escrito se pierde.
door-typed-here = Dejar esta página abierta: este navegador no guarda nada, así que lo escrito está solo aquí.
door-stranger = Este navegador no se conoce aquí.
door-stranger-do = Abrir la dirección que dio el servidor.
door-strange = La respuesta no se puede leer ({$status}).
door-strange-do = Volver a intentarlo.
door-broke = Eso no funcionó: {$said}
door-broke-do = Volver a intentarlo.

busy-file = Haciendo el archivo…
busy-opening = Abriendo…
busy-writing = Anotando…
busy-undoing = Deshaciendo…
busy-photo = Guardando la foto…
busy-reading = Leyendo la foto…
busy-report = Escribiendo el informe…
busy-syncing = Preguntando al servidor…

thumb-undo = Deshacer
thumb-undo-key = Des­hacer
thumb-undo-what = Deshacer: {$what}
thumb-taken-back = Deshecho: {$what}
thumb-camera = Cámara
thumb-back = Volver
thumb-to-job = Volver al paso
thumb-try-again = Volver a intentarlo
thumb-write-anyway = Anotar de todos modos
thumb-change-it = Cambiarlo
thumb-understood = Entendido
thumb-nothing-next = Ahora no hay nada que pulsar

standing-later = más tarde
standing-in-hand = en curso
standing-done = hecho
standing-skipped = omitido
standing-passed = no después de «Abrir»

spine-label = Etapas
spine-knot = {$number} {$title}, {$standing}
spine-step = {$title}, {$standing}
spine-more = Más
spine-far = {$done} de {$all} etapas

keypad-label = Teclas de números
keypad-point = coma
keypad-mark = ,
keypad-erase = borrar
keypad-thousand = tres ceros
keypad-letters = Teclas de letras
keypad-dash = guion
keypad-space = espacio
keypad-names-minus = más o menos
keypad-names-above = más de
keypad-names-k = kilo
keypad-names-m = mega
keypad-keyboard = El teclado del teléfono
keypad-less = menos: {$what}
keypad-more = más: {$what}

first-run-hello = Un cuaderno para trabajar en cajas automáticas. Seis datos y se puede empezar.
first-run-card = La tarjeta de medida
first-run-card-why = Está en cada foto y le da la escala. Imprimirla una vez, al 100 %.
first-run-begin = Empezar
first-run-name-first = Primero el nombre

tour-title = Un vistazo
tour-at = {$at} de {$all}
tour-next = Siguiente
tour-end = A los trabajos
tour-leave = Salir
tour-pages-1-title = Un paso, una pulsación
tour-pages-1-text = Cada paso muestra qué hacer y con qué tener cuidado. El botón naranja de abajo es lo que sigue. Los dibujos del lado son las etapas: al pulsar uno se va allí, en cualquier orden.
tour-pages-2-title = La tarjeta está en cada foto
tour-pages-2-text = Imprimir la tarjeta de medida al 100 %. Junto a los residuos da a la foto su escala. La aplicación cuenta las partículas; el recuento se corrige y se confirma a mano.
tour-pages-3-title = Mediciones en una hoja
tour-pages-3-text = Nombrar las piezas y los límites del fabricante una vez. Cada medición dice en una palabra grande lo que resulta, con sonido y vibración, y la pieza siguiente queda lista.
tour-pages-4-title = Anotado al momento, siempre se deshace
tour-pages-4-text = Cada pulsación está en el registro antes de que la pantalla lo diga, con o sin cobertura. «Deshacer» quita la última. Al final, el registro es el informe firmado para el cliente.

settings-language = Idioma
settings-technician = Nombre, como va en el informe
settings-shop = Nombre del taller
settings-address = Dirección
settings-telephone = Teléfono
settings-hand = ¿Qué pulgar trabaja?
settings-hands-left = Izquierdo
settings-hands-right = Derecho
settings-paper = Pantalla
settings-papers-bay = oscura
settings-papers-desk = clara
settings-glove = Guantes
settings-gloves-off = Sin guantes
settings-gloves-on = Con guantes: más grande
settings-meter = El multímetro
settings-sound = Después de una medición
settings-sounds-on = Sonido y vibración
settings-sounds-off = En silencio
settings-guard = ¿Qué seguridad hace falta para decir dentro o fuera de límites?
settings-guard-explain = Una medición cerca de un límite y menos segura que esto es «demasiado justo». Lo usual es 95 %.
settings-guards-1-label = 50 %: sin margen
settings-market = ¿Dónde se vendieron los vehículos?
settings-markets-north-america = EE. UU. o Canadá
settings-markets-elsewhere = en otro sitio
settings-markets-unknown = ambos, o no se sabe
settings-keep = Guardar

files-title = Una exportación
files-explain = Se importa todo lo que falta en este dispositivo: trabajos, fotos, clientes. Lo que ya está aquí queda como está.
files-none = No hay nada que importar.
files-take-in = Importarla
files-came-in = { $lines ->
    [one] {$lines} línea
   *[other] {$lines} líneas
} y { $photos ->
    [one] {$photos} foto
   *[other] {$photos} fotos
}: importado.
files-unsigned = { $n ->
    [one] {$n} línea no la firmó nadie: nada muestra que la escribiera su dispositivo.
   *[other] {$n} líneas no las firmó nadie: nada muestra que las escribieran sus dispositivos.
}
files-lies = El archivo está guardado: {$place}
files-card = tarjeta-de-medida.pdf
files-checker = comprobar-un-informe.html
files-no-checker = La página que comprueba un informe no está en esta aplicación.
files-ask-hub = El servidor del taller la muestra en /verify.

units-label = ¿Qué unidades?
units-of-distance = Distancia recorrida
units-of-temperature = Temperatura
units-of-torque = Par de apriete
units-of-volume = Aceite
units-of-length = Largo de los tornillos

jobs-label = Trabajos
jobs-count = { $n ->
    [one] {$n} trabajo
   *[other] {$n} trabajos
}
jobs-new-job = Trabajo nuevo
jobs-more = Más
jobs-find = Buscar
jobs-search = Buscar un trabajo
jobs-search-hint = matrícula, vehículo, cliente
jobs-untitled = Aún sin matrícula
jobs-empty-title = El cuaderno está vacío.
jobs-empty-text = Un trabajo empieza con el vehículo en el elevador: matrícula, queja, códigos. Después el cuaderno lleva por el cárter, las pruebas y el informe, una cosa tras otra.
jobs-empty-next = Nada necesita cobertura. Cada pulsación se anota al momento, y siempre se puede deshacer.
jobs-none-found = Ningún trabajo coincide con «{$search}».

job-one = Trabajo
job-demo = demostración inventada
job-notebook = Cuaderno
job-steps = Pasos de {$stage}
job-step-of = paso {$at} de {$all}
job-finished = Todo está hecho u omitido. El informe está en Más.

step-caution = Cuidado
step-tick = Marcar: {$title}
step-to-hand = Al paso en curso: {$title}
step-is-done = Hecho.
step-not-yet = Todavía no: ver arriba
step-is-skipped = Omitido: {$reason}
step-is-passed = Se decidió abrir la caja, así que no se pasa por este paso. Aun así se puede hacer.
step-why = ¿Por qué?
step-note = Nota
step-leave-out = Omitir, con un motivo
step-leave-out-title = Omitir: {$title}
step-leave-out-with = Omitirlo: {$reason}
step-leave-out-because = O se omite, porque:
step-reason = Por qué se omite
step-reason-first = Primero el motivo
step-reasons-1 = este vehículo no lo tiene
step-reasons-2 = el cliente no lo quiere
step-reasons-3 = los datos del fabricante dicen otra cosa
step-reasons-4 = hecho antes
step-reasons-5 = no se llega
step-reasons-6 = en la próxima visita
step-not-now = Volver al paso

note-title = Nota en: {$step}
note-text = Con palabras propias
note-who = ¿Quién la lee?
note-whos-report = En el informe
note-whos-private = Solo el taller
note-keep = Anotar la nota
note-first = Primero el texto

more-title = Más
more-jobs = Todos los trabajos
more-hand = Volver al paso
more-pan = El cárter y el índice
more-parts = Piezas quitadas
more-bench = Piezas eléctricas
more-photos = Fotos
more-log = El registro entero
more-report = El informe
more-customer = La respuesta del cliente
more-reports = { $n ->
    [0] aún sin hacer
    [one] {$n} hecho
   *[other] {$n} hechos
}
more-card = La tarjeta de medida, para imprimir
more-checker = La página que comprueba un informe
more-everything = Todo lo de aquí en un archivo
more-settings = Nombre, idioma, mano, pantalla
more-procedures = Procedimientos
more-record = Cuántas veces acertó el programa
more-sync = Servidor del taller

log-machine = El programa:{" "}
log-taken-back = deshecho
log-unsigned = sin firmar
log-take-back = Deshacer esta línea
log-take-back-short = Deshacer
log-redo = Rehacer esta línea
log-redo-short = Rehacer
log-keep-it = Cancelar
log-choose = Deshacer: {$what}
log-choose-redo = Rehacer: {$what}
log-short = { $lines ->
    [one] {$lines} línea
   *[other] {$lines} líneas
}, última: {$last}, {$at}
log-reason = Por qué (puede quedar vacío)

want-several = Pueden ser varios: pulsar cada uno y anotar.
want-what-it-is = Qué es
want-say-what = Decir qué es
want-label-car = El vehículo
want-label-complaint = La queja
want-label-codes-before = Códigos al llegar
want-label-codes-after = Códigos después del trabajo
want-label-go-ahead = Autorización
want-label-parts-off = Piezas quitadas
want-label-parts-back = Piezas montadas
want-label-census = Los recuentos
want-label-components = Piezas eléctricas
want-label-explains = Lo que explica
want-label-decision = Decisión
want-label-replace = Cambiado: {$what}
want-label-tighten = Apretado: {$what}
want-label-report = El informe
want-label-answer = La respuesta del cliente
want-row = {$label}: {$state}
want-have = anotado
want-missing = pendiente
want-optional = opcional
want-choose = Pulsar una de las teclas
want-enter = {$label}: introducir
want-write = Anotar: {$what}
want-offers = {$label}: teclas
timed-start = Iniciar el cronómetro
timed-stop = Parar el cronómetro
want-enough = No hay más de estos

photo-take = Foto: {$label}
photo-another = Otra foto: {$label}
photo-open = Abrir la foto: {$what}
photo-again = Repetir la foto
photo-again-short = Repetir
photo-taken-again = repetida
photo-none = Aún no hay fotos.

camera-title = Cámara: {$subject}
camera-live = Lo que ve la cámara
camera-still = La foto tal como se hizo
camera-held = Hasta que se guarde, esta foto está solo en esta página: si la página se recarga o se cierra, se pierde.
camera-shoot = Hacer la foto
camera-opening = Abriendo la cámara…
camera-keep = Guardar esta foto
camera-try-again = Volver a probar la cámara
camera-refused = No se puede abrir la cámara en la aplicación. Permitirla en los ajustes del teléfono o del navegador, o usar uno de los dos botones de abajo.
camera-file = Archivo de foto
camera-system = Cámara del teléfono
camera-torch = Luz
camera-itself = Automático
camera-told = Al pulsar
camera-advice-good = Bien: no mover
camera-advice-dark = Demasiado oscuro: acercar una luz
camera-advice-glare = Reflejo: apartar la luz
camera-advice-no-card = Mostrar la tarjeta de medida entera
camera-advice-tilted = Sostenerlo recto encima
camera-advice-far = Acercarse
camera-advice-blurred = Borroso: no mover
camera-lift-top = Levantar el borde de arriba
camera-lift-right = Levantar el borde derecho
camera-lift-bottom = Levantar el borde de abajo
camera-lift-left = Levantar el borde izquierdo
camera-loud = Con sonido
camera-silent = Sin sonido
camera-doing-1 = Guardar la foto
camera-doing-2 = Encontrar la tarjeta, las partículas y su tipo
camera-figures = {$tilt}° de inclinación, {$pxPerMm} px/mm
camera-hold = De lado: el teléfono nivelado encima, la tarjeta de medida a la misma altura.
camera-how-patch = Recto desde arriba, la tarjeta de medida al lado, sin reflejos.
camera-how-patch-after-magnet = El mismo sitio, después del imán; la tarjeta de medida al lado.
camera-how-pan = Recto desde arriba, sin limpiar nada, la tarjeta de medida dentro.
camera-how-magnet = Tal como está, antes de limpiarlo; si hay sitio, la tarjeta de medida a su altura.
camera-how-place = De modo que otra persona pudiera montarlo.

stray-title = De la cámara del teléfono
stray-waits = De la cámara del teléfono, { $n ->
    [one] {$n} foto no entró
   *[other] {$n} fotos no entraron
} en ningún trabajo, porque entretanto se cerró la aplicación. Abrir el trabajo, luego Más.
stray-explain = La hizo la cámara del teléfono ({$when}), y entretanto se cerró la aplicación. ¿Es de este paso?
stray-torn = La cámara del teléfono dejó un archivo ({$when}) que no es una foto entera. Repetirla.
stray-picture = La foto de {$when}
stray-subject = Qué muestra
stray-leave = Descartar esta foto
stray-leave-short = Descartar
stray-leaving = Entonces no entra en ningún trabajo y no se pregunta más por ella.
stray-really-leave = Descartarla del todo
stray-keep-after-all = No descartarla
stray-keep-short = Cancelar
stray-later = Más tarde
stray-none = Aquí no espera ninguna foto.

car-plate = Matrícula
car-description = El vehículo
car-description-hint = color, carrocería, caja
car-vin = VIN
car-odometer = Kilometraje
car-changed = Último cambio de aceite a los (vacío: nadie lo sabe)
car-owner = Propietario
car-contact = Teléfono o correo
car-plate-first = Primero matrícula o VIN
car-odometer-next = Ahora el kilometraje

gearbox-unit = La caja que lleva
gearbox-units-original = la original
gearbox-units-rebuilt = reconstruida
gearbox-units-new = otra, nueva
gearbox-units-used = otra, usada
gearbox-units-unknown = no se sabe
gearbox-unit-at = Se montó a los (kilometraje)
gearbox-first = ¿Es su primer servicio?
gearbox-firsts-yes = sí
gearbox-firsts-no = no
gearbox-firsts-unknown = no se sabe
gearbox-wiped = ¿En el último servicio se quitó el cárter y se limpiaron los imanes?
gearbox-wipeds-yes = sí
gearbox-wipeds-no = no
gearbox-wipeds-never = nunca se quitó
gearbox-wipeds-unknown = no se sabe

meter-own = multímetro propio
meter-by-leaflet = Introducir su exactitud
meter-explain = De su manual: ± (porcentaje de la lectura + unidades del último dígito).
meter-percent = Porcentaje de la lectura
meter-counts = Dígitos
meter-take = Este multímetro: ±{$percent} % + {$counts}

tools-title = Números de las herramientas
tools-explain = Un perito pregunta por ellos. Cada uno se pide una vez y está en el anexo del informe; lo que queda vacío figura allí como «no indicado».
tools-clamp = pinza de corriente
tools-wrench = llave dinamométrica
tools-serial = Número de serie: {$name}
tools-calibrated = Calibrado el: {$name}
tools-card-line = La línea de 150 mm de la hoja de la tarjeta de medida, tal como se mide
tools-card-day = Medida el
instruments-title = Instrumentos de medida
instruments-explain = Como los nombra un informe junto a cada medida. Lo que aquí no está indicado, tampoco lo está allí.
instruments-serial = Número de serie
instruments-calibrated = Calibrado el
instruments-not-stated = no indicado
instruments-card = Tarjeta de medida
instruments-card-line = Línea de 150 mm
instruments-change = Cambiarlos en los ajustes

trend-plot = Partículas en 10 000 km en cada visita, con intervalos del 90 %
trend-axis = Partículas de desgaste en 10 000 km; lleno: esta visita.
trend-now = ahora
trend-visits = Visitas, la más antigua primero

vin-scan = VIN: leer su código de barras
vin-file = VIN: de un archivo de foto
vin-from-photo = VIN de la foto hecha aquí
vin-read = Leído del {$format}: {$vin}. Compararlo con el vehículo.

complaint-words = Con las palabras del cliente
complaint-what = ¿Qué hace?
complaint-when = ¿Cuándo se nota?
complaint-keep = Anotar la queja
complaint-first = Primero el texto

codes-label = Códigos leídos
codes-state = Guardado o pendiente
codes-states-stored = guardado
codes-states-pending = pendiente
codes-state-keys-pending = Pendiente
codes-state-keys-stored = Guardado
codes-state-all = Guardado o pendiente, y ningún otro código
codes-state-all-keys-pending = Pendiente, ningún otro código
codes-state-all-keys-stored = Guardado, ningún otro código
codes-typing = El código que se escribe
codes-pad = Teclas de códigos
codes-remove = Quitar {$code}
codes-take-out = quitar
codes-status = cambiar
codes-status-of = Byte de estado de {$code}
codes-bits-of = Bits de estado de {$code}
codes-no-status = Sin estado
codes-or-tap = o pulsar los bits activos:
codes-bits-1 = falla ahora
codes-bits-2 = falló en este ciclo
codes-bits-3 = pendiente
codes-bits-4 = confirmado
codes-bits-5 = sin probar desde el borrado
codes-bits-6 = falló desde el borrado
codes-bits-7 = sin probar en este ciclo
codes-bits-8 = luz de aviso
codes-in-bytes = Código en hexadecimal
codes-in-letters = Código en letra y cifras
codes-take-bytes = Tomar {$bytes}
codes-failure-type = Tipo de fallo de {$code}
codes-finish = Terminar {$typing}…
codes-none-key = Ningún código
codes-none = Anotar: ningún código
codes-first = Un código, o «Ningún código»
codes-state-first = ¿Guardado o pendiente?
codes-write = Anotar: { $n ->
    [one] {$n} código
   *[other] {$n} códigos
}

go-ahead-ways-in-person = {$who}, en persona
go-ahead-ways-phone = {$who}, por teléfono
go-ahead-ways-message = {$who}, por escrito
go-ahead-other = Quién aceptó, si fue otra persona
go-ahead-amount = Otro importe
go-ahead-by = Quién aceptó
go-ahead-customer = el cliente
go-ahead-amounts = Importes redondos
go-ahead-how = Cómo
go-ahead-hows-in-person = En persona
go-ahead-hows-phone = Por teléfono
go-ahead-hows-message = Por escrito
go-ahead-limit = Lo más que puede costar antes de volver a preguntar
go-ahead-currency = Moneda
go-ahead-whos = Quién aceptó, para elegir
go-ahead-who-first = ¿Quién aceptó?
go-ahead-how-first = ¿Cómo aceptó?
go-ahead-limit-first = ¿Hasta cuánto, o sin límite?
go-ahead-limits = Límite
go-ahead-no-limit-key = Sin límite acordado
go-ahead-up-to = Anotar: {$who}, hasta {$amount}
go-ahead-no-limit = Anotar: {$who}, sin límite

parts-label = Piezas quitadas
parts-item = Qué se quitó
parts-items-1 = tornillos M6
parts-items-2 = tornillos M8
parts-items-3 = tornillos
parts-items-4 = tuercas
parts-items-5 = tornillos de chapa
parts-items-6 = tirante
parts-items-7 = bandeja
parts-items-8 = soporte
parts-items-9 = chapa térmica
parts-items-10 = grapa
parts-items-11 = tapón
parts-fasteners-1 = tornillos
parts-fasteners-2 = tuercas
parts-fasteners-3 = tornillos de chapa
parts-count = Cuántos
parts-count-keys = Tantos
parts-size = Medida
parts-length = Largo
parts-place = Dónde vuelve a ir
parts-places-1 = cárter
parts-places-2 = delante
parts-places-3 = detrás
parts-places-4 = izquierda
parts-places-5 = derecha
parts-places-6 = centro
parts-photo = Foto del sitio
parts-photo-of = {$what}, {$n}
parts-tap-places = { $n ->
    [0] Pulsar cada sitio en la foto.
    [one] {$n} sitio en la foto.
   *[other] {$n} sitios en la foto.
}
parts-last-place = Quitar el último sitio
parts-off = Quitado: {$what}
parts-change = {$what}: cambiar
parts-item-first = ¿Qué se quitó?
parts-count-first = ¿Cuántos?
parts-place-first = ¿Dónde va?
parts-enough-off = No se quitó nada más
parts-still-off = { $n ->
    [0] no hay nada quitado
   *[other] {$n} sin montar
}
parts-nothing = No se quitó nada.
parts-standing-all-back = todo montado
parts-standing-all-off = quitado
parts-standing-some-off = {$off} de {$count} sin montar
parts-back = { $n ->
    [one] Uno montado
   *[other] Los {$n} montados
}
parts-back-name = { $n ->
    [one] Uno montado
   *[other] Los {$n} montados
}: {$what}
parts-lost = Perdido o dañado
parts-lost-how = Qué pasó con ello
parts-write-lost = Anotar: uno perdido
parts-later-back = Seguir, {$n} sin montar
parts-put-back = {$n} sin montar
parts-all-back = Todo está montado

bench-label = Piezas eléctricas
bench-kind = ¿Qué es?
bench-kind-first = ¿Qué es?
bench-poles = Su otro polo
bench-by-case-case = A masa por la carcasa (un cable)
bench-name = Nombre en el esquema del fabricante
bench-names = Nombres para elegir
bench-name-first = ¿Cuál es?
bench-named = Su nombre: {$name}
bench-change = {$what}: cambiar
bench-suggest-temperature = Temperatura del aceite
bench-suggest-input-speed = Velocidad de entrada
bench-suggest-output-speed = Velocidad de salida
bench-suggest-solenoid = Solenoide {$letter}
bench-connector = Conector: color o marca
bench-number = Número de pieza
bench-codes = Códigos que la nombran
bench-low = Límite desde
bench-high = Límite hasta
bench-at = a
bench-source = De dónde salen los límites
bench-source-hint = manual del fabricante, página…
bench-sources = Datos de quién
bench-source-keys-1 = manual del fabricante
bench-source-keys-2 = datos en línea del fabricante
bench-source-keys-3 = hoja de datos de la pieza
bench-sets = Las piezas de una caja que ya estuvo aquí
bench-parts-of = {$name}: { $n ->
    [one] {$n} pieza
   *[other] {$n} piezas
}
bench-keep-set = Guardar estas piezas para la próxima igual
bench-set-name = ¿Cómo se llama esta caja?
bench-keep-set-as = Guardar como: {$name}
bench-forget-set = Olvidar las piezas de {$name}
bench-more-like = Más como {$name}, y después otras
bench-all-like = Tantas en total, todas como {$name}, y ninguna otra pieza
bench-code-names = {$code} nombra (datos del fabricante)
bench-one-more = {$name}, como {$like}
bench-source-first = ¿De dónde salen los límites?
bench-same-limits = Los límites de {$name}: {$spec}
bench-write = Anotar: {$name} y sus límites
bench-write-bare = Anotar: {$name}, sin límites
bench-enough = No hay más: { $n ->
    [one] {$n} pieza
   *[other] {$n} piezas
}
bench-replaced = cambiada
bench-no-spec = sin límites anotados
bench-how = Cómo se calculó
bench-nothing = Aún no hay ninguna pieza eléctrica nombrada.
bench-to-readings = A las mediciones

limits-of = Límites de
limits-of-what = Límites de: {$what}
limits-at-keys = Temperatura a la que valen los límites
limits-at-unsaid = No se indica
limits-at-assumed = Se supone entonces unos {$at}, y el veredicto es menos seguro.
limits-at-first = ¿A qué temperatura valen?
limits-form = Cómo los da el fabricante
limits-forms-range = A una temperatura
limits-forms-table = Una tabla
limits-forms-b-value = Un valor B
limits-row = Fila {$n} de la tabla
limits-celsius = A
limits-more-rows = Una fila más (de frío a caliente)
limits-tolerance = Tolerancia
limits-b = Valor B
limits-ohms = Resistencia
limits-least = Al menos
limits-more = más límites
limits-more-of = Más límites: {$name}
limits-no = No hay más límites

readings-samples = Tomas
readings-typed = Lo que muestra el multímetro
readings-display = Leer el multímetro
readings-display-title = Lectura de la pantalla del multímetro
readings-display-live = Lo que ve la cámara
readings-display-unit = La unidad de la pantalla
readings-display-unit-first = ¿Qué unidad muestra la pantalla?
readings-display-unit-check = La unidad no se lee: compararla con la pantalla.
readings-display-write = Escribir {$value}
readings-display-hold = La pantalla dentro del marco
readings-display-still = Mantener quieto…
readings-display-written = Escrito. A la espera del siguiente número.
readings-display-none = No se ve ninguna pantalla. Llenar el marco con ella.
readings-display-cut-off = Que entre toda la pantalla.
readings-display-too-small = Acercarse.
readings-display-doubtful = No es seguro: evitar reflejos, sostener recto encima.
readings-display-no-number = La pantalla no muestra ningún número.
readings-display-keys = Teclas numéricas
readings-display-opening = Se abre la cámara…
readings-display-refused = No se puede abrir la cámara: escribir el número. Se puede permitir en los ajustes del teléfono o del navegador.
readings-display-unable = Este aparato no puede leer la pantalla: escribir el número.
readings-part = La temperatura de la pieza
readings-field-leads = cables {$value} Ω
readings-field-leads-unknown = cables: no se sabe
readings-field-part = pieza {$value} {$degrees}
readings-field-part-unknown = pieza: {$degrees} sin saber
readings-field-top = el multímetro llega a {$value} Ω
readings-field-top-unknown = hasta dónde llega: no se sabe
readings-field-volts = medidor de aislamiento a {$value} V
readings-field-volts-unknown = sin medidor de aislamiento
readings-field-applied = {$value} V en la pieza
readings-field-applied-unknown = tensión en la pieza: sin medir
readings-from = ¿Dónde se leyó esa temperatura?
readings-froms-probe-at-part = Sonda en la pieza (± 1 K)
readings-froms-infrared = Infrarrojo (± 3 K)
readings-froms-scan-data = Datos de diagnosis (± 3 K)
readings-froms-surroundings = Aire alrededor (± 3 K)
readings-from-first = ¿Dónde se leyó?
readings-tester-caution = Desconectar la unidad de control y todos los sensores antes de que un medidor de aislamiento toque nada.
readings-contact = Contacto probado por
readings-contact-why = Una punta que se escapa es el falso abierto más común. Probar que los cables conducen; entonces se puede creer un abierto.
readings-contact-by-leads = ✓ contacto: cables juntos
readings-contact-by-sibling = ✓ contacto: se midió {$name}
readings-contact-by-ticked = ✓ contacto probado
readings-contact-by-not = contacto: sin probar
readings-contact-keys-leads = Cables juntos: introducir lo que dan
readings-contact-keys-sibling = {$name}, medido con estos cables
readings-contact-keys-ticked = Probado, sin número
readings-contact-keys-not = Sin probar
readings-applied-first = Tensión en {$name}
readings-applied-caution = Con fusible, con la polaridad correcta y no más tiempo del que permite el fabricante. Nada en electrónica.
readings-by = Corriente leída con
readings-by-first = ¿Con qué se lee la corriente?
readings-bys-meter = Multímetro en serie
readings-bys-clamp = Pinza
readings-click = Clic
readings-clicks-heard = Se oyó el clic
readings-clicks-none = Sin clic
readings-leads-keys = Cables juntos, Ω
readings-leads-unknown = Seguir sin saber los cables
readings-meter = Multímetro
readings-meter-first = ¿Qué multímetro?
readings-meter-says = {$name} (±{$percent} % + {$counts})
readings-take = Tomar {$value}
readings-write = Anotar: {$samples}
readings-same-again = {$value} otra vez
readings-drop = Quitar la toma {$sample}
readings-to-samples = Ahora la medición
readings-first = Medir {$name}
readings-next = Siguiente: {$name}
readings-enough = No hay más mediciones
readings-parts-first = Primero nombrar las piezas
readings-no-parts = Aún no hay ninguna pieza eléctrica nombrada. Ese es el paso anterior.
readings-sheet = Piezas y lo que miden
readings-row = {$name}: {$says}
readings-steady = {$value}, tres veces igual
readings-jumps = Se mueve: dejar {$value} y mirar otra vez
readings-near = Tres veces igual, cerca de piezas iguales
readings-alike = Tres veces igual
readings-as-before = {$value} tres veces, como {$name}
readings-all-open = Las {$n} dan OL a masa
readings-all-open-done = Las {$n} dan OL a masa: listo
readings-plot = {$value}: {$verdict}

harness-title = Cables: {$part}
harness-drawing = De la unidad de control, a la izquierda, a la pieza, a la derecha; masa abajo.
harness-how = De pin a pin y de cada pin a masa, en los dos lados: muestra qué tramo está abierto, en corto o con demasiada resistencia.
harness-caution = Contacto quitado, unidad de control desenchufada. Medir por detrás del conector o con la punta adecuada: una punta ancha abre el contacto.
harness-control = En el conector de la unidad de control, con la pieza enchufada
harness-part = La pieza sola, desenchufada
harness-wires = Cada cable de punta a punta, desenchufado en los dos lados
harness-looks-c = Pin {$first} a pin {$second}
harness-looks-c1 = Pin {$first} a masa
harness-looks-c2 = Pin {$second} a masa
harness-looks-p = La pieza, de pin a pin
harness-looks-p1 = La pieza, pin {$first} a masa
harness-looks-p2 = La pieza, pin {$second} a masa
harness-looks-w1 = Cable del pin {$first}
harness-looks-w2 = Cable del pin {$second}
harness-looks-leads = Puntas de medida juntas
harness-blank = – Ω
harness-pin = Nombre del pin {$n} en el esquema
harness-next = Siguiente: {$look}
harness-first = Medir: {$look}
harness-write = Escribir: { $n ->
    [one] {$n} número
   *[other] {$n} números
}
harness-open = Los cables de {$part}

explains-read = Visto
explains-not-yet = Aún no hay nada que valorar
explains-nothing = Aún no hay ningún código ni medición que comparar con la queja.

tighten-torque = Par según los datos del fabricante
tighten-torque-first = El par, o al tacto
tighten-how = Cómo
tighten-hows-feel = A mano, al tacto
tighten-hows-angle = Par y ángulo
tighten-hows-by-hand = Todos empezados a mano
tighten-angle = Después girar otros
tighten-angle-first = El ángulo
tighten-by-hand-then = Todos empezados a mano, después {$passes} pasadas
tighten-by-hand-first = Pulsar «Todos empezados a mano» cuando lo estén
tighten-passes = Pasadas
tighten-passes-first = ¿Cuántas pasadas?
tighten-write = Anotar: {$what} {$torque}

plan-show = Orden y pasadas
plan-picture = Orden en cruz de {$n} tornillos, numerados
plan-passes = Pasadas, marcadas una tras otra
plan-bolts = Cuántos tornillos
plan-more = Con
plan-mores-adapter = Adaptador en la llave
plan-mores-sealant = Sellador, sin junta
plan-lever = Llave: del centro del mango al cuadradillo
plan-length = Adaptador: del cuadradillo al tornillo
plan-angle = Cómo está el adaptador respecto a la llave
plan-angles-0 = en línea
plan-angles-90 = en escuadra
plan-tool = ¿Qué exactitud tiene la llave dinamométrica?
plan-tools-none = No se dice
plan-tools-scale = Según su escala
plan-tools-percent = Según su certificado
plan-most = Su escala acaba en (ISO 6789)
plan-percent = Su certificado dice
plan-is-instead = Es {$torque}
plan-is-sure = Es {$torque}, como se escribió
plan-doubt = ¿Cuál es?

replace-component = Qué pieza
replace-what = Qué se cambió
replace-number = Número de la pieza nueva
replace-batch = Lote o código de fecha
replace-old = La vieja
replace-olds-kept = Guardada para el cliente
replace-olds-not = No guardada
replace-write = Anotar: {$what}, pieza cambiada
replace-first = ¿Qué se cambió?
replace-whats = Cambiado
replace-old-first = ¿Dónde está la vieja?
replace-enough = No se cambió nada más
replace-at-once = {$what}: cambio de pieza
replace-at-once-kept = {$what}: pieza cambiada, la vieja guardada
replace-at-once-not = {$what}: pieza cambiada, la vieja no guardada

census-look-at = Mirar: {$what}
census-enough = Todos los recuentos confirmados
census-photos-first = Primero fotos del cárter, los imanes y el papel de muestra
census-no-photos = Aún no hay foto del cárter, de un imán ni de un papel de muestra.
census-not-read = Aún sin leer.
census-confirmed = ✓ Confirmado.
census-not-confirmed = ○ Aún sin confirmar.

decision-label = Qué se decide
decision-choices-carry-on = Terminar el trabajo
decision-choices-watch = Vigilar
decision-choices-test-first = Probar primero
decision-choices-open-up = Abrir
decision-tests = Siguiente:
decision-advises = Consejo:
decision-so-far = Con lo contado hasta ahora:
decision-confirm-first = Confirmar antes: {$what}
decision-take = Decidir: {$choice}
decision-overrule = Contra el consejo: {$choice}
decision-reason = Por qué se decide otra cosa
decision-reason-first = Primero el motivo
decision-reasons-1 = el cliente lo quiere así
decision-reasons-2 = los residuos son de una reparación anterior
decision-reasons-3 = visto con mis propios ojos: sano
decision-reasons-4 = más de lo que muestra la foto
decision-choose = ¿Qué se decide?
decision-not-yet = Aún no hay nada que valorar: confirmar antes un recuento.
decision-was = Decidido: {$what}

pan-table = Pesos: {$name}
pan-gauge = Grado {$numeral}, {$band}. Índice de desgaste {$score}, entre {$lo} y {$hi}.
pan-score = índice {$score} ({$lo} a {$hi}) de 100
pan-reasons = Motivos, primero los de más peso
pan-share = {$share} %
pan-more = { $n ->
    [one] 1 motivo más
   *[other] {$n} motivos más
}
pan-basis = En qué se basa
pan-photo = Foto
pan-see-photo = La foto de: {$reason}
pan-missing = Aún no se sabe:
pan-nothing = Aún no se ha contado nada. El índice sale de las fotos del cárter, los imanes y el papel de muestra.

review-all = Todas las partículas
review-read = Leer esta foto
review-stand-by = Confirmar { $n ->
    [one] {$n} partícula
   *[other] {$n} partículas
}
review-piece = Partícula {$number} de {$of}
review-previous = Partícula anterior
review-next = Partícula siguiente
review-close = Cerrar la partícula
review-what-is-it = ¿Qué es?
review-not-debris = no es residuo
review-redrawn = Contorno del técnico.
review-two = Dividir
review-cut = Cortar
review-join = Unir
review-cut-ask = Tocar a un lado de la partícula y después al otro.
review-join-ask = Tocar la otra partícula.
review-leave-it = Cancelar
review-same-place = A qué foto pertenece
review-same-place-ask = Lo que dos fotos muestran de un mismo sitio se cuenta una vez. Lo que se llevó un imán es acero.
review-alone = No hay ninguna foto anterior a la que pueda pertenecer.
review-machine-said = El programa dijo {$what}.
review-likely = {$p} % seguro
review-tabs = Sobre esta foto
review-panels-1-label = Tipos
review-panels-2-label = Tamaños
review-panels-3-label = Límites
review-panels-4-label = Mismo sitio
review-panels-5-label = Fijar la escala
review-filter-class = Mostrar solo estos tipos
review-filter-size = Mostrar solo estos tamaños
review-show-all = Mostrar todo otra vez
review-count = {$n} ({$lo} a {$hi})
review-no-sizes = Sin escala no hay tamaños.
review-below-seen = * Partículas tan pequeñas no se ven todas en esta foto.
review-scale = Escala:
review-cannot = Lo que esta foto no puede mostrar
review-zoom = Ampliar
review-out = Reducir
review-gestures = Con dos dedos se amplía. Con un dedo se mueve, si está ampliada. Mantener pulsado: sin contornos.

how-to-title = Cómo fotografiar residuos
how-to-steps-1-title = Extender fino
how-to-steps-1-text = Verter o pasar el residuo a un papel blanco sin pelusa. Sin montones: las partículas que se tapan se cuentan como una.
how-to-steps-2-title = Poner la tarjeta de medida al lado
how-to-steps-2-text = Plana, limpia, a la misma altura, entera en la foto. Da la escala, el plano y el blanco.
how-to-steps-3-title = Sostener el teléfono nivelado encima
how-to-steps-3-text = A un palmo, con luz de lado, sin reflejos. La flecha dice qué borde levantar.
how-to-legend = Qué son las partículas
how-to-meanings = Práctica común, sin fuente publicada. El procedimiento del fabricante va primero.

tray-how = Tocar: está bien. Mantener: verla en la foto. %: qué seguridad.
tray-heaps-grave = Lo que más pesa en el índice
tray-heaps-doubtful = En duda
tray-heaps-sure = Seguro
tray-heaps-not-debris = No es residuo
tray-confirmed = Confirmado
tray-rest = { $left ->
    [0] Confirmar las {$all}
   *[other] El resto está bien: {$left}
}
tray-none = { $n ->
    [one] Confirmar: no es un residuo
   *[other] Confirmar: ninguna de estas {$n} es un residuo
}
tray-all-kinds = Todos los tipos
tray-in-photo = En la foto
tray-to-photo = La foto
tray-to-tray = La bandeja
tray-legend = Leyenda
tray-letters = Letras
tray-more-keys = Más
tray-less-keys = Menos
tray-lost = La foto no se puede mostrar aquí; las cifras valen.

help-label = Qué tocar
help-taps = Largo conocido
help-magnet = El imán
help-drop = Gota de aceite
help-ask-taps = Tocar los dos extremos de algo de largo conocido: una cabeza de tornillo, una regla.
help-ask-subject = Tocar el centro de la cara del imán.
help-ask-fluid = Tocar el centro de la gota de aceite.
help-known = Largos conocidos
help-lengths-8 = cabeza de 8 mm
help-lengths-10 = cabeza de 10 mm
help-lengths-13 = cabeza de 13 mm
help-lengths-50 = regla de 50 mm
help-length = Largo entre los toques
help-where = Dónde se tocó
help-wheres-ground = en el fondo
help-wheres-subject = en el imán
help-read-again = Leerla otra vez con esto
help-not-yet-subject = Tocar el imán
help-not-yet-fluid = Tocar la gota
help-not-yet-taps = { $taps ->
    [0] Tocar un extremo
    [one] Tocar el otro extremo
   *[other] ¿Cuánto mide?
}

report-look = Ver el informe
report-explain = Se lee entero antes de hacerlo. Lo que se hace queda firmado y ya no se puede cambiar.
report-make = Hacer el informe
report-again = Escribirlo otra vez
report-made = El informe está hecho.
report-given-answer = {$title}. {$asked}:
report-save = Guardar el archivo
report-save-pdf = Guardarlo en PDF, para imprimir
report-share = Enviar el informe
report-frame = El informe
report-leave-out = Omitir en esta copia
report-leave-outs-customer = Nombre del cliente
report-leave-outs-car = Matrícula y VIN
report-leave-out-note = Las fotos quedan como están: mirar si alguna muestra un nombre o una matrícula.
report-named-texts = Estos textos escritos lo contienen. Ninguno se cambia en parte.
report-holds-name-goes = Contiene «{$holds}»: se omite entero.
report-holds-name-stays = Contiene «{$holds}»: queda como está.
report-word-texts = Textos que solo contienen una palabra del nombre
report-word-text-choices-leave = Omitir enteros
report-word-text-choices-keep = Dejar: ahí no es nombre
report-reads = El cliente lee

costs-open = Poner precios (opcional)
costs-explain = Lo que cuesta cada cosa, en la carta y en la página del cliente. Lo que queda vacío dice «no indicado».
costs-added = Añadido al precio de: {$what}
costs-added-hint = con impuestos, sin piezas
costs-keep = Guardar los precios

reports-title = Informes hechos
reports-list = Hasta ahora: { $n ->
    [one] {$n} informe
   *[other] {$n} informes
}
reports-back = Volver al informe
reports-form-page = como página
reports-form-paper = para papel
reports-shared = compartido con el cliente
reports-stands = Vale.
reports-superseded = Sustituido por el que se hizo el {$when}.
reports-withdrawn = Retirado el {$when}: {$reason}
reports-withdraw = Retirarlo
reports-withdraw-now = Retirarlo ahora
reports-reason = ¿Por qué? Lo lee el cliente.

customer-explain = Un enlace que solo recibe este cliente. Abre el informe en el servidor del taller, y allí contesta a cada consejo. El enlace se muestra una vez.
customer-link = Hacer un enlace
customer-to-links = Al enlace
customer-ask = El cliente contesta en el propio informe: aceptar, rechazar o preguntar, consejo por consejo.
customer-later = La respuesta llega más tarde
customer-another = Hacer otro enlace
customer-days = Abierto
customer-day-choices-1-label = 7 días
customer-day-choices-2-label = 30 días
customer-day-choices-3-label = 90 días
customer-code = Pedir un código
customer-code-choices-no = Sin código
customer-code-choices-yes = Código por teléfono
customer-shown = Que el cliente lo escanee, o enviárselo.
customer-qr = El enlace como código QR
customer-tell = Decirle este código por teléfono: {$code}
customer-made = Hecho: {$when}.
customer-until = Abierto hasta: {$day}.
customer-copy = Copiar el enlace
customer-copied = Copiado.
customer-sync = El servidor debe tener el trabajo antes de que el enlace se abra: sincronizar ahora.
customer-open = Enlaces abiertos
customer-close = Cerrar
customer-closing = Cerrando el enlace…
customer-none = Aún sin respuesta.
customer-by = {$name}, {$when}
customer-says-answers = { $answers ->
    [one] {$answers} respuesta
   *[other] {$answers} respuestas
}
customer-says-no-answer = aún sin respuesta
customer-says-not-asked = aún sin preguntar

sync-explain = El servidor es el equipo del propio taller. Muestra una imagen para la cámara de este teléfono, y una dirección, un código de un solo uso y una huella: introducirlos una vez, y ambos se conocen.
sync-is-hub = Este es el propio servidor: lo que se anota aquí está al momento en el cuaderno del taller.
sync-show-code = Mostrar un código de un solo uso
sync-phones-pair = Los teléfonos se vinculan con él por su dirección y el código de un solo uso que muestra.
sync-address = Dirección
sync-address-hint = https://…
sync-code = Código de un solo uso
sync-fingerprint = Huella de su certificado
sync-fingerprint-hint = sus primeras 20 cifras
sync-first = Primero dirección y código
sync-pair = Vincular con el servidor
sync-now = Sincronizar ahora
sync-other = Vincular con otro servidor
sync-hub = Vinculado con {$address}.
sync-last = Última sincronización: {$when}.
sync-never = Aún no se ha sincronizado.
sync-waiting-none = El servidor lo tiene todo.
sync-waiting = Esperan: { $lines ->
    [one] {$lines} línea
   *[other] {$lines} líneas
}, { $photos ->
    [one] {$photos} foto
   *[other] {$photos} fotos
}.

record-by-class = Por el tipo que dijo
record-by-size = Por tamaño
record-calibrate = Calibrar los tipos de los recuentos nuevos
record-calibrates-off = No
record-calibrates-on = Sí
record-repeats = Cómo se repiten las fotos
record-repeats-explain = Calculado según ISO 5725 con fotos de un mismo papel de las que se dijo que muestran el mismo sitio, como las leyó el programa, sin correcciones.

code-table-title = A qué apuntan los códigos
code-table-explain = Una tabla une códigos con tipos de piezas, para comparar una medición con un código. Un taller puede poner sus propias filas delante, desde un archivo.
code-table-says = { $rows ->
    [one] {$rows} fila
   *[other] {$rows} filas
}, { $own ->
    [0] ninguna propia
    [one] {$own} propia
   *[other] {$own} propias
}.
code-table-file = Archivo con filas
code-table-add = Poner filas propias desde un archivo
code-table-added = Puesto: {$name}
code-table-show = Ver las filas propias
code-table-remove = Quitar las filas propias
code-table-gone = Quitadas: las filas propias

procedures-explain = Un taller puede añadir su propio procedimiento desde un archivo, o una versión nueva de uno. Los trabajos siguen con la versión con la que empezaron.
procedures-file = Archivo de procedimiento
procedures-add = Añadir un procedimiento desde un archivo
procedures-added = Añadido: {$name}
procedures-new-job = Trabajo nuevo: {$title}

tighten-to-feel = al tacto
report-file = informe
report-file-job = trabajo
go-ahead-currencies = EUR USD MXN
procedures-says = versión {$version}, { $steps ->
    [one] {$steps} paso
   *[other] {$steps} pasos
}{ $ships ->
    [yes] , viene con el cuaderno
   *[no] {""}
}
