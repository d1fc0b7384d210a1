/**
 * Every word that a customer reads on their quote, by key and language: the page, its paper, and the words that a new
 * quote begins with. `{name}` stands for what the page puts in, the same in all languages. A key that ends in `.one`
 * has a sister in `.other`, for counts. Translations by hand; the cautions say no less than the English ones.
 */

export const LANGUAGES = ["en", "es", "de"] as const;
export type Language = (typeof LANGUAGES)[number];

/** A language for the shop's own lists, and whose calendar it has in the Unicode Common Locale Data Repository. */
export const LANGUAGE_NAMES: Readonly<Record<Language, { name: string; locale: string }>> = {
  en: { name: "English", locale: "en-GB" },
  es: { name: "Spanish (español)", locale: "es" },
  de: { name: "German (Deutsch)", locale: "de-DE" },
};

type Words = Readonly<Record<Language, string>>;

const WORDS = {
  // The frame of the page
  "page.skip": { en: "Skip to the content", es: "Ir al contenido", de: "Zum Inhalt" },
  "page.made-with": { en: "Made with Seepwise.", es: "Hecho con Seepwise.", de: "Erstellt mit Seepwise." },
  "page.error": { en: "Error: {title}", es: "Error: {title}", de: "Fehler: {title}" },
  "errors.one": { en: "Fix this to continue", es: "Corrija esto para continuar", de: "Bitte berichtigen Sie dies" },
  "errors.other": {
    en: "Fix these {count} things to continue",
    es: "Corrija estos {count} puntos para continuar",
    de: "Bitte berichtigen Sie diese {count} Angaben",
  },

  // Who gives it, to whom, about what
  "head.title": { en: "Quote {number}", es: "Presupuesto {number}", de: "Angebot {number}" },
  "head.quote": { en: "Quote", es: "Presupuesto", de: "Angebot" },
  "head.date": { en: "Date", es: "Fecha", de: "Datum" },
  "head.valid-until": { en: "Valid until", es: "Válido hasta", de: "Gültig bis" },
  "head.for": { en: "For", es: "Para", de: "Für" },
  "head.vehicle": { en: "Vehicle", es: "Vehículo", de: "Fahrzeug" },
  "head.system": {
    en: "Air conditioning with {refrigerant}",
    es: "Aire acondicionado con {refrigerant}",
    de: "Klimaanlage mit {refrigerant}",
  },
  "head.plate": { en: "Plate", es: "Placa", de: "Kennzeichen" },
  "head.vin": { en: "VIN", es: "Número de bastidor (VIN)", de: "FIN (VIN)" },
  "head.odometer": { en: "Odometer", es: "Odómetro", de: "Kilometerstand" },
  "head.tax-number": { en: "Tax number {number}", es: "Número fiscal {number}", de: "Steuernummer {number}" },
  "head.logo": { en: "Logo of {shop}", es: "Logotipo de {shop}", de: "Logo von {shop}" },

  // How the quote stands
  "standing.withdrawn": {
    en: "This quote was withdrawn",
    es: "Este presupuesto fue retirado",
    de: "Dieses Angebot wurde zurückgezogen",
  },
  "standing.too-late": {
    en: "Your answer came too late and was not taken.",
    es: "Su respuesta llegó demasiado tarde y no se registró.",
    de: "Ihre Antwort kam zu spät und wurde nicht angenommen.",
  },
  "standing.preview": {
    en: "The customer sees this. {link}",
    es: "Esto es lo que ve el cliente. {link}",
    de: "Das sieht der Kunde. {link}",
  },
  "standing.back": { en: "Back to the quote", es: "Volver al presupuesto", de: "Zurück zum Angebot" },
  "standing.expired": {
    en: "This quote expired on {day}. Its prices no longer hold: {instead}",
    es: "Este presupuesto venció el {day}. Sus precios ya no son válidos: {instead}",
    de: "Dieses Angebot ist am {day} abgelaufen. Seine Preise gelten nicht mehr: {instead}",
  },
  "standing.no-longer": {
    en: "Its prices no longer hold: {instead}",
    es: "Sus precios ya no son válidos: {instead}",
    de: "Seine Preise gelten nicht mehr: {instead}",
  },
  "standing.ask-new": {
    en: "ask {shop} for a new one.",
    es: "pida uno nuevo a {shop}.",
    de: "Fragen Sie {shop} nach einem neuen.",
  },
  "standing.newer": {
    en: "there is a newer one, quote {number}. Ask {shop} for its link.",
    es: "hay uno más reciente, el presupuesto {number}. Pida el enlace a {shop}.",
    de: "Es gibt ein neueres, Angebot {number}. Fragen Sie {shop} nach dem Link.",
  },
  "standing.accepted": {
    en: "{title}: accepted by {name} on {at}.",
    es: "{title}: aceptado por {name} el {at}.",
    de: "{title}: angenommen von {name} am {at}.",
  },
  "standing.declined": {
    en: "Declined by {name} on {at}.",
    es: "Rechazado por {name} el {at}.",
    de: "Abgelehnt von {name} am {at}.",
  },
  "standing.thanks": {
    en: "Thank you. {shop} has your answer.",
    es: "Gracias. {shop} tiene su respuesta.",
    de: "Vielen Dank. {shop} hat Ihre Antwort.",
  },
  "agreed.ready": { en: "Ready by {day}.", es: "Listo para el {day}.", de: "Fertig bis {day}." },
  "agreed.extra": {
    en: "Extra work may add up to {sum} with tax; beyond that we ask you first.",
    es: "El trabajo adicional puede sumar hasta {sum}, impuestos incluidos; si pasa de ahí, antes le preguntamos.",
    de: "Mehrarbeit darf bis zu {sum} mit Steuer dazukommen; darüber hinaus fragen wir Sie vorher.",
  },
  "agreed.deposit": {
    en: "Deposit paid on {day}: {sum}.",
    es: "Anticipo pagado el {day}: {sum}.",
    de: "Anzahlung vom {day}: {sum}.",
  },
  "agreed.left": { en: "Left to pay: {sum}.", es: "Queda por pagar: {sum}.", de: "Noch zu zahlen: {sum}." },
  "unknown.title": { en: "Not found", es: "No encontrado", de: "Nicht gefunden" },
  "unknown.text": {
    en: "There is no quote at this address. Check it for a slip, or ask the shop for a new link.",
    es: "En esta dirección no hay ningún presupuesto. Revise si hay un error o pida un enlace nuevo al taller.",
    de: "Unter dieser Adresse gibt es kein Angebot. Prüfen Sie sie auf Tippfehler oder bitten Sie die Werkstatt um einen neuen Link.",
  },

  // What the shop recommends, and what the record says
  "word.recommend": { en: "We recommend: {title}", es: "Recomendamos: {title}", de: "Wir empfehlen: {title}" },
  "word.not-needed": {
    en: "Nothing needs to be done today",
    es: "Hoy no es necesario hacer nada",
    de: "Heute ist nichts zu tun",
  },
  "word.check-first": {
    en: "First find out what is wrong",
    es: "Primero averiguar qué falla",
    de: "Zuerst herausfinden, was fehlt",
  },
  "word.options": {
    en: "What can be done about the leak",
    es: "Qué se puede hacer con la fuga",
    de: "Was gegen das Leck getan werden kann",
  },
  "word.record-not-needed": {
    en: "By the record nothing needs to be done today: the charge is well above where cooling gets poor.",
    es: "Según el historial, hoy no es necesario hacer nada: la carga está muy por encima del nivel en que empieza a enfriar mal.",
    de: "Nach den Aufzeichnungen ist heute nichts zu tun: Die Füllung liegt deutlich über der Menge, bei der die Kühlung schlecht wird.",
  },
  "word.record-not-needed-until": {
    en: "By the record nothing needs to be done today: the charge is well above where cooling gets poor, which we expect around {month}.",
    es: "Según el historial, hoy no es necesario hacer nada: la carga está muy por encima del nivel en que empieza a enfriar mal, lo que esperamos hacia {month}.",
    de: "Nach den Aufzeichnungen ist heute nichts zu tun: Die Füllung liegt deutlich über der Menge, bei der die Kühlung schlecht wird; das erwarten wir etwa im {month}.",
  },
  "word.may-not-be-low": {
    en: "It may not be low on refrigerant.",
    es: "Puede que no le falte refrigerante.",
    de: "Möglicherweise fehlt gar kein Kältemittel.",
  },
  "word.readings-first": {
    en: "Readings should settle that before any of these.",
    es: "Conviene aclararlo con mediciones antes de elegir nada de esto.",
    de: "Das sollten Messungen klären, bevor etwas davon gemacht wird.",
  },
  "word.estimate-for": {
    en: "The estimate alone speaks for {title}.",
    es: "La estimación por sí sola habla a favor de {title}.",
    de: "Die Schätzung allein spricht für {title}.",
  },
  "word.estimate-for-because": {
    en: "The estimate alone speaks for {title}: {because}.",
    es: "La estimación por sí sola habla a favor de {title}: {because}.",
    de: "Die Schätzung allein spricht für {title}: {because}.",
  },
  "word.first-step": {
    en: "Cheapest first: new valve cores and sealing caps on the service ports, about {price} without refrigerant. The leak is there in {chance} cases.",
    es: "Lo más barato primero: obuses de válvula y tapones nuevos en las tomas de servicio, unos {price} sin refrigerante. La fuga está ahí en {chance} casos como el suyo.",
    de: "Das Günstigste zuerst: neue Ventileinsätze und Dichtkappen an den Serviceanschlüssen, etwa {price} ohne Kältemittel. Dort ist das Leck in {chance} Fällen wie Ihrem.",
  },
  "word.typical": {
    en: "The estimates are typical for a leaking vehicle: no loss has been measured on this one yet.",
    es: "Las estimaciones son las típicas de un vehículo con fuga: en este todavía no se ha medido ninguna pérdida.",
    de: "Die Schätzungen sind typisch für ein undichtes Fahrzeug: An diesem wurde noch kein Verlust gemessen.",
  },
  "word.known": {
    en: "From its log: about {charge} of {nameplate} of {refrigerant} is left, and it loses about {leak} a year (likely range {range} a year).",
    es: "Según su registro de cargas: quedan unos {charge} de {nameplate} de {refrigerant}, y pierde unos {leak} al año (intervalo probable {range} al año).",
    de: "Nach seinen Füllungen: Etwa {charge} von {nameplate} {refrigerant} sind noch darin, und es verliert etwa {leak} im Jahr (wahrscheinlich {range} im Jahr).",
  },
  "why.cheaper": {
    en: "over {years} it costs about {sum} less than “{than}”",
    es: "en {years} cuesta unos {sum} menos que «{than}»",
    de: "über {years} kostet es etwa {sum} weniger als „{than}“",
  },
  "why.as-much": {
    en: "over {years} it costs about as much as “{than}”",
    es: "en {years} cuesta más o menos lo mismo que «{than}»",
    de: "über {years} kostet es etwa so viel wie „{than}“",
  },
  "why.cleaner": {
    en: "over {years} it costs about as much as “{than}”, and it releases less refrigerant",
    es: "en {years} cuesta más o menos lo mismo que «{than}» y libera menos refrigerante",
    de: "über {years} kostet es etwa so viel wie „{than}“ und setzt weniger Kältemittel frei",
  },
  "why.cleaner-more": {
    en: "over {years} it costs about as much as “{than}” ({sum} more), and it releases less refrigerant",
    es: "en {years} cuesta más o menos lo mismo que «{than}» ({sum} más) y libera menos refrigerante",
    de: "über {years} kostet es etwa so viel wie „{than}“ ({sum} mehr) und setzt weniger Kältemittel frei",
  },
  "why.half": {
    en: "over {years} it costs about as much as “{than}”, and it releases less than half as much refrigerant",
    es: "en {years} cuesta más o menos lo mismo que «{than}» y libera menos de la mitad de refrigerante",
    de: "über {years} kostet es etwa so viel wie „{than}“ und setzt nicht einmal halb so viel Kältemittel frei",
  },
  "why.half-more": {
    en: "over {years} it costs about as much as “{than}” ({sum} more), and it releases less than half as much refrigerant",
    es: "en {years} cuesta más o menos lo mismo que «{than}» ({sum} más) y libera menos de la mitad de refrigerante",
    de: "über {years} kostet es etwa so viel wie „{than}“ ({sum} mehr) und setzt nicht einmal halb so viel Kältemittel frei",
  },

  // The options compared
  "options.title": { en: "The options", es: "Las opciones", de: "Die Möglichkeiten" },
  "options.recommended": { en: "Recommended", es: "Recomendamos esta", de: "Unsere Empfehlung" },
  "options.accepted": { en: "✓ Accepted", es: "✓ Aceptado", de: "✓ Angenommen" },
  "options.today": { en: "Price today", es: "Precio hoy", de: "Preis heute" },
  "options.range": { en: "{from} to {to}", es: "de {from} a {to}", de: "{from} bis {to}" },
  "options.about": { en: "about {sum}", es: "unos {sum}", de: "etwa {sum}" },
  "options.by-place": {
    en: "by where it leaks; we ask you first",
    es: "según dónde esté la fuga; antes le preguntamos",
    de: "je nachdem, wo es undicht ist; wir fragen Sie vorher",
  },
  "options.over": { en: "Over {years}", es: "En {years}", de: "Über {years}" },
  "options.not-estimated": {
    en: "Not estimated for this work.",
    es: "No se estima para este trabajo.",
    de: "Für diese Arbeit nicht geschätzt.",
  },
  "options.today-and-later": {
    en: "Over {years}, in all",
    es: "Hoy y después, en {years}",
    de: "Heute und später, über {years}",
  },
  "options.likely": {
    en: "likely {from} to {to}",
    es: "probablemente de {from} a {to}",
    de: "wahrscheinlich {from} bis {to}",
  },
  "options.likely-about": {
    en: "likely about {sum}",
    es: "probablemente unos {sum}",
    de: "wahrscheinlich etwa {sum}",
  },
  "options.to-air": { en: "Refrigerant to air", es: "Refrigerante al aire", de: "Kältemittel in die Luft" },
  "options.warms-like": {
    en: "{co2e} as CO₂e",
    es: "calienta como {co2e} de CO₂",
    de: "wärmt wie {co2e} CO₂",
  },
  "options.how-sure": { en: "How sure", es: "Qué seguridad hay", de: "Wie sicher" },
  "options.key-today": { en: "paid today", es: "se paga hoy", de: "heute zu zahlen" },
  "options.key-later": { en: "later, on average", es: "después, en promedio", de: "später, im Mittel" },
  "options.good-to-know": { en: "Note", es: "Conviene saber", de: "Gut zu wissen" },
  "remark.not-covered": { en: "Not covered: {text}", es: "No incluye: {text}", de: "Nicht enthalten: {text}" },
  "remark.warranty.one": {
    en: "{count} month's warranty.",
    es: "Garantía de {count} mes.",
    de: "{count} Monat Garantie.",
  },
  "remark.warranty.other": {
    en: "{count} months' warranty.",
    es: "Garantía de {count} meses.",
    de: "{count} Monate Garantie.",
  },
  "remark.includes": {
    en: "Includes {titles}.",
    es: "Incluye {titles}.",
    de: "Enthält {titles}.",
  },
  "remark.excludes": {
    en: "Cannot be combined with {titles}.",
    es: "No se puede combinar con {titles}.",
    de: "Nicht zusammen mit {titles}.",
  },
  "remark.not-needed": {
    en: "By the record it is not needed today.",
    es: "Según el historial, hoy no es necesario.",
    de: "Nach den Aufzeichnungen ist das heute nicht nötig.",
  },
  "remark.may-not-help": {
    en: "It may not be low on refrigerant: this may not bring the cooling back.",
    es: "Puede que no le falte refrigerante: es posible que con esto no vuelva a enfriar.",
    de: "Möglicherweise fehlt kein Kältemittel: Dann kühlt es danach nicht besser.",
  },
  "closed.rule": {
    en: "Local rules may not allow this: ask us before you choose it.",
    es: "Es posible que las normas locales no lo permitan: pregúntenos antes de elegirlo.",
    de: "Örtliche Vorschriften erlauben das vielleicht nicht: Fragen Sie uns, bevor Sie es wählen.",
  },
  "closed.empty": {
    en: "No pressure is left: the leak has to be found first, then the system evacuated and charged by weight.",
    es: "Ya no queda presión: primero hay que encontrar la fuga; después se hace el vacío y se carga por peso.",
    de: "Es ist kein Druck mehr vorhanden: Zuerst muss das Leck gefunden, dann die Anlage evakuiert und nach Gewicht befüllt werden.",
  },
  "closed.floor": {
    en: "This leak is fast: a full charge may not last half a year.",
    es: "Esta fuga es rápida: una carga completa puede no durar ni medio año.",
    de: "Dieses Leck ist schnell: Eine volle Füllung hält vielleicht kein halbes Jahr.",
  },
  "closed.done": {
    en: "This test was made before.",
    es: "Esta prueba ya se hizo.",
    de: "Diese Prüfung wurde schon gemacht.",
  },
  "sure.place": {
    en: "The leak is {at} in {chance} cases like yours.",
    es: "La fuga está {at} en {chance} casos como el suyo.",
    de: "Das Leck ist in {chance} Fällen wie Ihrem {at}.",
  },
  "sure.unknown-life": {
    en: "We do not know yet how long a charge lasts in this vehicle.",
    es: "Todavía no sabemos cuánto dura una carga en este vehículo.",
    de: "Wir wissen noch nicht, wie lange eine Füllung in diesem Fahrzeug hält.",
  },
  "sure.lasts": {
    en: "A full charge lasts about {span}.",
    es: "Una carga completa dura aproximadamente {span}.",
    de: "Eine volle Füllung hält etwa {span}.",
  },
  "sure.more.one": {
    en: "About {count} more recharge.",
    es: "Eso supone aproximadamente {count} recarga más.",
    de: "Das ist etwa {count} weitere Befüllung.",
  },
  "sure.more.other": {
    en: "About {count} more recharges.",
    es: "Eso supone aproximadamente {count} recargas más.",
    de: "Das sind etwa {count} weitere Befüllungen.",
  },
  "sure.test-idle": {
    en: "The test would hardly change our advice.",
    es: "La prueba apenas cambiaría nuestro consejo.",
    de: "Die Prüfung würde unseren Rat kaum ändern.",
  },
  "sure.test-leads": {
    en: "In {chance} cases a repair is the better option afterwards.",
    es: "En {chance} casos como el suyo, después conviene más reparar.",
    de: "In {chance} Fällen wie Ihrem ist danach eine Reparatur besser.",
  },
  "nothing.head": { en: "If nothing is done:", es: "Si no se hace nada:", de: "Wenn nichts geschieht:" },
  "nothing.unknown": {
    en: "what is wrong stays as it is, and may get worse.",
    es: "la avería queda como está y puede empeorar.",
    de: "Der Fehler bleibt und kann schlimmer werden.",
  },
  "nothing.low": {
    en: "it will cool less and less, then not at all. The compressor, short of oil, may be damaged.",
    es: "enfriará cada vez menos y al final nada. A un compresor que trabaja con poco refrigerante también le falta aceite y puede dañarse.",
    de: "Es kühlt immer weniger und schließlich gar nicht mehr. Einem Kompressor, der mit zu wenig Kältemittel läuft, fehlt auch Öl; er kann Schaden nehmen.",
  },
  "nothing.years": {
    en: "it will go on cooling for many years, as far as the record tells.",
    es: "seguirá enfriando muchos años, según lo que dice el historial.",
    de: "Es kühlt nach den Aufzeichnungen noch viele Jahre.",
  },
  "nothing.until": {
    en: "it will cool well until about {month}, then less and less.",
    es: "enfriará bien hasta {month} aproximadamente, y después cada vez menos.",
    de: "Es kühlt gut bis etwa {month}, danach immer weniger.",
  },
  "nothing.released": {
    en: "About {mass} would reach the air over {years}.",
    es: "En {years} llegarían al aire unos {mass} de refrigerante.",
    de: "Über {years} gelangten etwa {mass} Kältemittel in die Luft.",
  },
  "years.label": {
    en: "Years you will keep the vehicle",
    es: "¿Cuántos años más va a conservar el vehículo?",
    de: "Wie viele Jahre behalten Sie das Fahrzeug noch?",
  },
  "years.again": { en: "Calculate again", es: "Calcular de nuevo", de: "Neu berechnen" },
  "years.wrong": {
    en: "Enter years from {min} to {max}, like 5",
    es: "Escriba de {min} a {max} años, por ejemplo 5",
    de: "Geben Sie {min} bis {max} Jahre ein, zum Beispiel 5",
  },

  // Prices
  "price.breakdown": { en: "Price breakdown", es: "Desglose del precio", de: "Wie sich der Preis zusammensetzt" },
  "price.for": { en: "For", es: "Concepto", de: "Leistung" },
  "price.quantity": { en: "Quantity", es: "Cantidad", de: "Menge" },
  "price.each": { en: "Price each", es: "Precio unitario", de: "Einzelpreis" },
  "price.amount": { en: "Amount", es: "Importe", de: "Betrag" },
  "price.subtotal": { en: "Subtotal", es: "Subtotal", de: "Zwischensumme" },
  "price.total": { en: "Total", es: "Total", de: "Gesamt" },
  "price.less": { en: "Less", es: "Menos", de: "Abzug" },
  "price.less-percent": { en: "Less {percent} %", es: "Menos {percent} %", de: "Abzug {percent} %" },
  "price.less-percent-sum": {
    en: "Less {percent} %: {sum}",
    es: "Menos {percent} %: {sum}",
    de: "Abzug {percent} %: {sum}",
  },
  "price.less-sum": { en: "Less {sum}", es: "Menos {sum}", de: "Abzug {sum}" },
  "price.tax": {
    en: "{name}, {percent} % of {sum}",
    es: "{name}, {percent} % de {sum}",
    de: "{name}, {percent} % von {sum}",
  },
  "price.elsewhere": {
    en: "This price is for {place}, the most likely location. The total if the leak is elsewhere: {list}.",
    es: "Este precio es para {place}, el lugar más probable. El total si la fuga está en otro sitio: {list}.",
    de: "Dieser Preis gilt für {place}, die wahrscheinlichste Stelle. Gesamtpreis, wenn das Leck woanders ist: {list}.",
  },
  "kind.labor": { en: "Labor", es: "Mano de obra", de: "Arbeit" },
  "kind.parts": { en: "Parts", es: "Piezas", de: "Teile" },
  "kind.refrigerant": { en: "Refrigerant", es: "Refrigerante", de: "Kältemittel" },
  "kind.service": { en: "Service", es: "Servicio", de: "Service" },
  "kind.test": { en: "Leak test", es: "Prueba de fugas", de: "Dichtheitsprüfung" },
  "kind.supplies": { en: "Supplies", es: "Consumibles", de: "Verbrauchsmaterial" },
  "kind.credit": { en: "Credit", es: "Abono", de: "Gutschrift" },

  // Places: at the place, the place as an object, the place in a list
  "place.service-port.at": { en: "at a service port", es: "en una toma de servicio", de: "an einem Serviceanschluss" },
  "place.joint.at": { en: "at a joint", es: "en una unión", de: "an einer Verbindung" },
  "place.hose.at": { en: "at a hose", es: "en una manguera", de: "an einem Schlauch" },
  "place.condenser.at": { en: "at the condenser", es: "en el condensador", de: "am Kondensator" },
  "place.evaporator.at": { en: "at the evaporator", es: "en el evaporador", de: "am Verdampfer" },
  "place.compressor.at": { en: "at the compressor", es: "en el compresor", de: "am Kompressor" },
  "place.service-port.the": { en: "a service port", es: "una toma de servicio", de: "einen Serviceanschluss" },
  "place.joint.the": { en: "a joint", es: "una unión", de: "eine Verbindung" },
  "place.hose.the": { en: "a hose", es: "una manguera", de: "einen Schlauch" },
  "place.condenser.the": { en: "the condenser", es: "el condensador", de: "den Kondensator" },
  "place.evaporator.the": { en: "the evaporator", es: "el evaporador", de: "den Verdampfer" },
  "place.compressor.the": { en: "the compressor", es: "el compresor", de: "den Kompressor" },
  "place.service-port.name": { en: "a service port", es: "toma de servicio", de: "Serviceanschluss" },
  "place.joint.name": { en: "a joint", es: "unión", de: "Verbindung" },
  "place.hose.name": { en: "a hose", es: "manguera", de: "Schlauch" },
  "place.condenser.name": { en: "the condenser", es: "condensador", de: "Kondensator" },
  "place.evaporator.name": { en: "the evaporator", es: "evaporador", de: "Verdampfer" },
  "place.compressor.name": { en: "the compressor", es: "compresor", de: "Kompressor" },

  // The answer
  "answer.title": { en: "Your answer", es: "Su respuesta", de: "Ihre Antwort" },
  "answer.what": {
    en: "What would you like us to do?",
    es: "¿Qué quiere que hagamos?",
    de: "Was sollen wir für Sie tun?",
  },
  "answer.once": {
    en: "You can answer once. {authorized}",
    es: "Solo se puede responder una vez. {authorized}",
    de: "Sie können einmal antworten. {authorized}",
  },
  "answer.authorized": {
    en: "I authorize the work of the option marked, at the price shown. Nothing more is done without my consent.",
    es: "Autorizo el trabajo de la opción marcada, al precio indicado. No se hará nada más sin mi consentimiento.",
    de: "Ich beauftrage die Arbeit der angekreuzten Möglichkeit zum angegebenen Preis. Mehr wird ohne meine Zustimmung nicht gemacht.",
  },
  "answer.yes": { en: "Yes: {title}, {price}", es: "Sí: {title}, {price}", de: "Ja: {title}, {price}" },
  "answer.yes-by-place": {
    en: "Yes: {title}, {price}, by where it leaks; we ask you first",
    es: "Sí: {title}, {price}, según dónde esté la fuga; antes le preguntamos",
    de: "Ja: {title}, {price}, je nachdem, wo es undicht ist; wir fragen Sie vorher",
  },
  "answer.no": { en: "No, thank you", es: "No, gracias", de: "Nein, danke" },
  "answer.name": { en: "Your name", es: "Su nombre", de: "Ihr Name" },
  "answer.name-hint": {
    en: "Typing your name counts as your signature",
    es: "Escribir su nombre equivale a su firma",
    de: "Ihr eingetippter Name gilt als Unterschrift",
  },
  "answer.send": { en: "Send my answer", es: "Enviar mi respuesta", de: "Antwort senden" },
  "answer.choose": {
    en: "Choose one of the options, or no",
    es: "Elija una de las opciones, o no",
    de: "Wählen Sie eine der Möglichkeiten oder Nein",
  },
  "answer.name-needed": {
    en: "Type your name: it stands for your signature",
    es: "Escriba su nombre: vale como firma",
    de: "Geben Sie Ihren Namen ein: Er steht für Ihre Unterschrift",
  },
  "answer.name-long": {
    en: "Keep the name to {most} characters",
    es: "El nombre puede tener {most} caracteres como máximo",
    de: "Der Name darf höchstens {most} Zeichen haben",
  },

  // On paper
  "paper.title": { en: "Authorization", es: "Autorización", de: "Auftrag" },
  "paper.code": { en: "Code to scan", es: "Código para escanear", de: "Code zum Scannen" },
  "paper.scan": {
    en: "Scan this to read the quote and answer it online.",
    es: "Escanéelo para leer el presupuesto y responder en línea.",
    de: "Scannen Sie den Code, um das Angebot online zu lesen und zu beantworten.",
  },
  "paper.more-work": {
    en: "More work without asking, up to",
    es: "Trabajo adicional sin preguntar, hasta",
    de: "Mehrarbeit ohne Rückfrage bis",
  },
  "paper.ready-by": { en: "Ready by", es: "Listo para el", de: "Fertig bis" },
  "paper.old-parts": {
    en: "Old parts back: ☐ yes ☐ no",
    es: "Devolver piezas viejas: ☐ sí ☐ no",
    de: "Altteile zurück: ☐ ja ☐ nein",
  },
  "paper.deposit": { en: "Deposit paid", es: "Anticipo pagado", de: "Anzahlung" },
  "paper.technician": { en: "Technician, certificate", es: "Técnico, certificado", de: "Techniker, Nachweis" },
  "paper.signature": { en: "Name and signature", es: "Nombre y firma", de: "Name und Unterschrift" },

  // Invoices and credit notes
  "invoice.invoice": { en: "Invoice", es: "Factura", de: "Rechnung" },
  "invoice.credit-note": { en: "Credit note", es: "Nota de crédito", de: "Rechnungskorrektur" },
  "invoice.next-number": { en: "the next number", es: "el número siguiente", de: "die nächste Nummer" },
  "invoice.worked": { en: "Work done", es: "Trabajo realizado", de: "Ausgeführt am" },
  "invoice.pay-by": { en: "Pay by", es: "Pagar hasta el", de: "Zahlbar bis" },
  "invoice.takes-back": {
    en: "This takes back from invoice {number}: {reason}",
    es: "Corrige la factura {number}: {reason}",
    de: "Berichtigt die Rechnung {number}: {reason}",
  },
  "invoice.before-tax": { en: "Before tax", es: "Antes de impuestos", de: "Ohne Steuer" },
  "invoice.given-back": { en: "Given back", es: "Devuelto", de: "Gutgeschrieben" },
  "invoice.given-back-sum": { en: "Given back: {sum}.", es: "Devuelto: {sum}.", de: "Gutgeschrieben: {sum}." },
  "invoice.paid": { en: "Paid: {sum}.", es: "Pagado: {sum}.", de: "Gezahlt: {sum}." },
  "invoice.paid-deposit": {
    en: "Paid: {sum}, of it {deposit} as deposit.",
    es: "Pagado: {sum}, de ello {deposit} como anticipo.",
    de: "Gezahlt: {sum}, davon {deposit} als Anzahlung.",
  },
  "invoice.to-pay": { en: "To pay: {sum}", es: "Por pagar: {sum}", de: "Zu zahlen: {sum}" },
  "invoice.to-pay-back": { en: "To be paid back: {sum}", es: "Por devolver: {sum}", de: "Zu erstatten: {sum}" },
  "invoice.nothing-left": { en: "Nothing left to pay", es: "No queda nada por pagar", de: "Nichts mehr zu zahlen" },
  "invoice.extra": { en: "Extra work", es: "Trabajo adicional", de: "Mehrarbeit" },
  "invoice.extra-within": {
    en: "Extra work: {sum} with tax, of the {limit} agreed.",
    es: "Trabajo adicional: {sum} con impuestos, de los {limit} acordados.",
    de: "Mehrarbeit: {sum} mit Steuer, von den vereinbarten {limit}.",
  },
  "invoice.extra-yes": {
    en: "Extra work: {sum} with tax, where {limit} was agreed. {name} said yes to it {how} on {day}.",
    es: "Trabajo adicional: {sum} con impuestos; se habían acordado {limit}. {name} lo aceptó {how} el {day}.",
    de: "Mehrarbeit: {sum} mit Steuer; vereinbart waren {limit}. {name} hat {how} am {day} zugestimmt.",
  },
  "invoice.found": {
    en: "The leak was {place}. The price is the one quoted for it.",
    es: "La fuga estaba {place}. El precio es el presupuestado para ese lugar.",
    de: "Das Leck war {place}. Der Preis ist der dafür angebotene.",
  },
  "how.phone": { en: "by phone", es: "por teléfono", de: "telefonisch" },
  "how.paper": { en: "on paper", es: "por escrito", de: "schriftlich" },
  "how.person": { en: "in person", es: "en persona", de: "persönlich" },

  // Warranty, small print, cautions, rules
  "terms.title": { en: "Warranty and terms", es: "Garantía y condiciones", de: "Garantie und Bedingungen" },
  "terms.warranty.one": {
    en: "Warranty, {count} month: {words}",
    es: "Garantía, {count} mes: {words}",
    de: "Garantie, {count} Monat: {words}",
  },
  "terms.warranty.other": {
    en: "Warranty, {count} months: {words}",
    es: "Garantía, {count} meses: {words}",
    de: "Garantie, {count} Monate: {words}",
  },
  "small.title": { en: "What the numbers are", es: "Qué son los números", de: "Was die Zahlen bedeuten" },
  "small.text": {
    en: "Prices today are exact and include tax. What comes later is an estimate from the vehicle's charge record, in today's money: every way the leak may turn out, counted by how likely it is. “Likely” leaves out one case in ten. Amounts are rounded to the smallest unit of the currency; each tax is taken once.",
    es: "Los precios de hoy son exactos e incluyen impuestos. Lo que viene después es una estimación a partir del historial de cargas del vehículo, en dinero de hoy: cada forma en que puede evolucionar la fuga cuenta según su probabilidad. «Probablemente» deja fuera un caso de cada diez. Los importes se redondean a la unidad más pequeña de la moneda; cada impuesto se aplica una vez.",
    de: "Die Preise für heute sind genau und enthalten die Steuer. Was später kommt, ist eine Schätzung aus den Füllungen des Fahrzeugs, in heutigem Geld: Jeder Verlauf des Lecks zählt so viel, wie er wahrscheinlich ist. „Wahrscheinlich“ lässt einen von zehn Fällen aus. Beträge sind auf die kleinste Einheit der Währung gerundet; jede Steuer wird einmal erhoben.",
  },
  "care.title": { en: "Take care", es: "Atención", de: "Vorsicht" },
  "care.high-voltage": {
    en: "High voltage drives this compressor and can kill: leave it to a technician who is trained for high voltage. Only the compressor's own oil, and dye in that oil, may go in.",
    es: "Este compresor funciona con alta tensión, que puede matar: déjelo en manos de un técnico formado en alta tensión. Solo puede entrar el aceite propio del compresor y colorante en ese mismo aceite.",
    de: "Diesen Kompressor treibt Hochspannung an; sie kann töten: Überlassen Sie ihn einem für Hochvolt ausgebildeten Techniker. Hinein darf nur das eigene Öl des Kompressors und Kontrastmittel in diesem Öl.",
  },
  "care.trained": {
    en: "Refrigerant freezes skin and eyes, and venting it is illegal in many places: leave it to trained people.",
    es: "Deje el refrigerante a personas formadas para ello: congela la piel y los ojos, y soltarlo al aire es ilegal en muchos lugares.",
    de: "Überlassen Sie das Kältemittel Leuten, die dafür ausgebildet sind: Es verursacht Erfrierungen an Haut und Augen, und es abzulassen ist vielerorts verboten.",
  },
  "care.sealer": {
    en: "Put no sealer in, and no refrigerant of another kind.",
    es: "No introduzca sellador ni refrigerante de otro tipo.",
    de: "Füllen Sie kein Dichtmittel ein und kein anderes Kältemittel.",
  },
  "care.flammable": {
    en: "{refrigerant} is flammable: no flame or spark near a leak.",
    es: "{refrigerant} es inflamable: ninguna llama ni chispa cerca de una fuga.",
    de: "{refrigerant} ist brennbar: keine Flamme und keinen Funken in die Nähe eines Lecks.",
  },
  "care.hybrid": {
    en: "In a hybrid or electric vehicle the compressor may run on high voltage: do not touch it.",
    es: "En un vehículo híbrido o eléctrico el compresor puede funcionar con alta tensión: no lo toque.",
    de: "In einem Hybrid- oder Elektrofahrzeug kann der Kompressor unter Hochspannung stehen: nicht berühren.",
  },
  "rules.title": { en: "Rules here", es: "Normas de aquí", de: "Vorschriften hier" },
  "rules.as-of": {
    en: "As we knew them on {day}. Check your local code; this is not legal advice.",
    es: "Tal como las conocíamos el {day}, en inglés. Consulte las normas locales; esto no es asesoramiento jurídico.",
    de: "Stand vom {day}, auf Englisch. Prüfen Sie die örtlichen Vorschriften; dies ist keine Rechtsberatung.",
  },

  // Numbers among words, and words of somebody else's
  quoted: { en: "“{text}”", es: "«{text}»", de: "„{text}“" },
  chance: { en: "{n} of 100", es: "{n} de cada 100", de: "{n} von 100" },
  "chance.under": { en: "under 1 of 100", es: "menos de 1 de cada 100", de: "unter 1 von 100" },
  "chance.over": { en: "over 99 of 100", es: "más de 99 de cada 100", de: "über 99 von 100" },
  "span.days": { en: "a few days", es: "unos días", de: "einige Tage" },
  "span.weeks.one": { en: "{count} week", es: "{count} semana", de: "{count} Woche" },
  "span.weeks.other": { en: "{count} weeks", es: "{count} semanas", de: "{count} Wochen" },
  "span.months.one": { en: "{count} month", es: "{count} mes", de: "{count} Monat" },
  "span.months.other": { en: "{count} months", es: "{count} meses", de: "{count} Monate" },
  "span.years.one": { en: "{count} year", es: "{count} año", de: "{count} Jahr" },
  "span.years.other": { en: "{count} years", es: "{count} años", de: "{count} Jahre" },
  "span.many-years": { en: "more than 50 years", es: "más de 50 años", de: "mehr als 50 Jahre" },
  "span.from-to": { en: "{from} to {to}", es: "de {from} a {to}", de: "{from} bis {to}" },
  "span.same": { en: "about {span}", es: "unos {span}", de: "etwa {span}" },
  "mass.from-to": { en: "{from} to {to}", es: "de {from} a {to}", de: "{from} bis {to}" },
  "mass.also": { en: "{mass} ({grams})", es: "{mass} ({grams})", de: "{mass} ({grams})" },

  // What a new quote begins with; a shop changes it to its own
  "option.recharge.title": { en: "Recharge now", es: "Recargar ahora", de: "Jetzt neu befüllen" },
  "option.recharge.words": {
    en: "We recover what is left, check that the system holds a vacuum, and charge it full by weight. The leak is still there, so it will get low again.",
    es: "Recuperamos lo que queda, comprobamos que el sistema mantiene el vacío y lo cargamos por completo, por peso. La fuga sigue ahí, así que volverá a faltar refrigerante.",
    de: "Wir saugen ab, was noch darin ist, prüfen, ob die Anlage das Vakuum hält, und füllen sie nach Gewicht voll. Das Leck bleibt, also wird wieder Kältemittel fehlen.",
  },
  "option.recharge.not-covered": {
    en: "Finding and repairing the leak.",
    es: "Encontrar y reparar la fuga.",
    de: "Das Leck zu finden und zu reparieren.",
  },
  "option.electronic.title": {
    en: "Find the leak first",
    es: "Encontrar primero la fuga",
    de: "Zuerst das Leck finden",
  },
  "option.electronic.words": {
    en: "We search the system with a leak detector, so you know the repair's price before deciding. Nothing is repaired or recharged yet.",
    es: "Revisamos todo el sistema con un detector de fugas. Así sabrá cuánto costaría la reparación antes de decidir. Todavía no se repara ni se recarga nada.",
    de: "Wir suchen die ganze Anlage mit einem Lecksuchgerät ab. Dann wissen Sie vor der Entscheidung, was die Reparatur kosten würde. Repariert und befüllt wird noch nichts.",
  },
  "option.electronic.not-covered": {
    en: "The repair and the recharge.",
    es: "La reparación y la recarga.",
    de: "Die Reparatur und die Befüllung.",
  },
  "option.dye.title": {
    en: "Find the leak with dye",
    es: "Encontrar la fuga con colorante",
    de: "Das Leck mit Kontrastmittel finden",
  },
  "option.dye.words": {
    en: "We put dye in with the refrigerant. After about five weeks we look with a lamp where it has come out. Then you know what the repair would cost before you decide.",
    es: "Añadimos colorante junto con el refrigerante. Al cabo de unas cinco semanas miramos con una lámpara por dónde ha salido. Así sabrá cuánto costaría la reparación antes de decidir.",
    de: "Wir geben mit dem Kältemittel ein Kontrastmittel hinein. Nach etwa fünf Wochen sehen wir mit einer Lampe, wo es ausgetreten ist. Dann wissen Sie vor der Entscheidung, was die Reparatur kosten würde.",
  },
  "option.dye.not-covered": { en: "The repair.", es: "La reparación.", de: "Die Reparatur." },
  "option.repair.words": {
    en: "We take out the refrigerant, repair this place, check that the system holds a vacuum, and charge it full by weight.",
    es: "Sacamos el refrigerante, reparamos este punto, comprobamos que el sistema mantiene el vacío y lo cargamos por completo, por peso.",
    de: "Wir saugen das Kältemittel ab, reparieren diese Stelle, prüfen, ob die Anlage das Vakuum hält, und füllen sie nach Gewicht voll.",
  },
  "option.repair.not-covered": {
    en: "A leak at another place.",
    es: "Una fuga en otro lugar.",
    de: "Ein Leck an anderer Stelle.",
  },
  "option.port.words": {
    en: "We replace the valve cores with the system under pressure, and add by weight what is missing.",
    es: "Cambiamos los obuses de válvula con el sistema bajo presión y añadimos por peso lo que falta.",
    de: "Wir wechseln die Ventileinsätze unter Druck und füllen nach Gewicht nach, was fehlt.",
  },
  "option.found.title": {
    en: "Find the leak and repair it",
    es: "Encontrar la fuga y repararla",
    de: "Das Leck finden und reparieren",
  },
  "option.found.words": {
    en: "We find the leak, repair it, and charge the system full by weight, in one visit. Totals by place: see the price breakdown.",
    es: "Encontramos la fuga, la reparamos y cargamos el sistema por completo, por peso, en una sola visita. El precio depende de dónde esté la fuga; véase el desglose de precios. Le preguntamos antes de empezar.",
    de: "Wir finden das Leck, reparieren es und füllen die Anlage nach Gewicht voll, bei einem Besuch. Was es kostet, hängt davon ab, wo es undicht ist; siehe die Aufstellung der Preise. Wir fragen Sie, bevor wir anfangen.",
  },
  "option.found.not-covered": { en: "A second leak.", es: "Una segunda fuga.", de: "Ein zweites Leck." },
  "option.diagnosis.title": { en: "Find out what is wrong", es: "Averiguar qué falla", de: "Herausfinden, was fehlt" },
  "option.diagnosis.words": {
    en: "It may not be low on refrigerant. We take gauge readings, check the compressor, its clutch and drive, the fans, the condenser and the expansion valve, and tell you what it is and what putting it right would cost.",
    es: "Puede que no le falte refrigerante. Medimos las presiones, revisamos el compresor, su embrague y su accionamiento, los ventiladores, el condensador y la válvula de expansión, y le decimos qué es y cuánto costaría arreglarlo.",
    de: "Möglicherweise fehlt kein Kältemittel. Wir messen die Drücke, prüfen den Kompressor, seine Kupplung und seinen Antrieb, die Lüfter, den Kondensator und das Expansionsventil und sagen Ihnen, was es ist und was die Behebung kosten würde.",
  },
  "option.diagnosis.not-covered": { en: "Putting it right.", es: "La reparación de la avería.", de: "Die Behebung." },
  "option.own.title": { en: "Another way", es: "Otra solución", de: "Eine andere Lösung" },
  "repair.service-port": {
    en: "Repair the service ports",
    es: "Reparar las tomas de servicio",
    de: "Serviceanschlüsse reparieren",
  },
  "repair.joint": {
    en: "Reseal the leaking joint",
    es: "Sellar de nuevo la unión con fuga",
    de: "Undichte Verbindung neu abdichten",
  },
  "repair.hose": {
    en: "Replace the leaking hose",
    es: "Cambiar la manguera con fuga",
    de: "Undichten Schlauch ersetzen",
  },
  "repair.condenser": { en: "Replace the condenser", es: "Cambiar el condensador", de: "Kondensator ersetzen" },
  "repair.evaporator": { en: "Replace the evaporator", es: "Cambiar el evaporador", de: "Verdampfer ersetzen" },
  "repair.compressor": { en: "Replace the compressor", es: "Cambiar el compresor", de: "Kompressor ersetzen" },
  "labor.service-port": {
    en: "Replace the valve cores and caps of the service ports",
    es: "Cambiar los obuses y tapones de las tomas de servicio",
    de: "Ventileinsätze und Kappen der Serviceanschlüsse ersetzen",
  },
  "labor.joint": {
    en: "Open the leaking joint and renew its O-ring",
    es: "Abrir la unión con fuga y cambiar su junta tórica",
    de: "Undichte Verbindung öffnen und O-Ring erneuern",
  },
  "labor.evaporator": {
    en: "Open the dash and replace the evaporator",
    es: "Abrir el tablero y cambiar el evaporador",
    de: "Armaturenbrett öffnen und Verdampfer ersetzen",
  },
  "parts.service-port": {
    en: "Valve cores and sealing caps",
    es: "Obuses de válvula y tapones",
    de: "Ventileinsätze und Dichtkappen",
  },
  "parts.joint": { en: "O-rings and oil", es: "Juntas tóricas y aceite", de: "O-Ringe und Öl" },
  "parts.hose": { en: "Hose and O-rings", es: "Manguera y juntas tóricas", de: "Schlauch und O-Ringe" },
  "parts.condenser": {
    en: "Condenser, drier, O-rings and oil",
    es: "Condensador, filtro deshidratador, juntas tóricas y aceite",
    de: "Kondensator, Trockner, O-Ringe und Öl",
  },
  "parts.evaporator": {
    en: "Evaporator, expansion valve, O-rings and oil",
    es: "Evaporador, válvula de expansión, juntas tóricas y aceite",
    de: "Verdampfer, Expansionsventil, O-Ringe und Öl",
  },
  "parts.compressor": {
    en: "Compressor, drier, O-rings and oil",
    es: "Compresor, filtro deshidratador, juntas tóricas y aceite",
    de: "Kompressor, Trockner, O-Ringe und Öl",
  },
  "line.recover": { en: "Recover the refrigerant", es: "Recuperar el refrigerante", de: "Kältemittel absaugen" },
  "line.evacuate": {
    en: "Evacuate, and check that it holds the vacuum",
    es: "Hacer el vacío y comprobar que lo mantiene",
    de: "Evakuieren und prüfen, ob das Vakuum hält",
  },
  "line.service-extra": { en: "Machine for", es: "Máquina para", de: "Gerät für" },
  "line.charge": { en: "Charge by weight", es: "Cargar por peso", de: "Nach Gewicht befüllen" },
  "line.refrigerant-full": {
    en: "full charge by weight, all of it new",
    es: "carga completa por peso, toda nueva",
    de: "volle Füllung nach Gewicht, ganz neu",
  },
  "line.refrigerant-missing": { en: "what is missing", es: "lo que falta", de: "was fehlt" },
  "line.refrigerant-returned": {
    en: "what is missing; the rest goes back in",
    es: "lo que falta; el resto vuelve a entrar",
    de: "was fehlt; der Rest kommt wieder hinein",
  },
  "line.dye": { en: "Dye with the charge", es: "Colorante con la carga", de: "Kontrastmittel mit der Füllung" },
  "line.dye-inspection": {
    en: "Look for the dye, in about five weeks",
    es: "Buscar el colorante, en unas cinco semanas",
    de: "Nach dem Kontrastmittel sehen, in etwa fünf Wochen",
  },
  "line.electronic": {
    en: "Search for the leak with a detector",
    es: "Buscar la fuga con un detector",
    de: "Leck mit einem Suchgerät suchen",
  },
  "line.supplies": { en: "Shop supplies", es: "Consumibles del taller", de: "Verbrauchsmaterial der Werkstatt" },
  "line.diagnosis": { en: "Diagnosis", es: "Diagnóstico", de: "Diagnose" },
  "line.minimum": { en: "Minimum charge", es: "Importe mínimo", de: "Mindestbetrag" },
  "book.warranty": {
    en: "Parts and labor of the repair, not a leak at another place.",
    es: "Piezas y mano de obra de la reparación. No cubre una fuga en otro lugar.",
    de: "Teile und Arbeit der Reparatur. Ein Leck an anderer Stelle ist nicht eingeschlossen.",
  },
  "book.tax-parts": { en: "Sales tax on parts", es: "Impuesto sobre las piezas", de: "Steuer auf Teile" },
  "book.tax-labor": { en: "Tax on labor", es: "Impuesto sobre la mano de obra", de: "Steuer auf Arbeit" },
} as const satisfies Readonly<Record<string, Words>>;

export type CustomerWord = keyof typeof WORDS;

/** The table: what stands under a key in a language. */
export type CustomerWords = Readonly<Record<CustomerWord, Words>>;

export const CUSTOMER_WORDS: CustomerWords = WORDS;
