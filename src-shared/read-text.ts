/**
 * What people type or paste → a value, or a sentence saying why not. Nothing is guessed: where a text could mean
 * two things it is refused with both readings named.
 */

export type Reading<Value> = { ok: true; value: Value } | { ok: false; what: string }

function read<Value>(value: Value): Reading<Value> {
  return { ok: true, value }
}

function refuse<Value>(what: string): Reading<Value> {
  return { ok: false, what }
}

/**
 * A number as farms write it: 1,250.5 · $46.00 · 12 % · 88 ac · 36". A percent sign divides by nothing: the column
 * decides. Refuses 1.234,5 and 12,5, which could be read two ways.
 */
export function readNumber(text: string): Reading<number> {
  const plain = text
    .trim()
    .replace(/^\$\s*/, '')
    .replace(/\s*(%|["″]|ac|acres?|lbs?(\/(ac|acre))?|in|inch(es)?|ft|days?)\.?$/i, '')
  if (/^[-+]?\d{1,3}(,\d{3})+(\.\d+)?$/.test(plain)) return read(Number(plain.replaceAll(',', '')))
  if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(plain)) {
    const value = Number(plain)
    return Number.isFinite(value) ? read(value) : refuse(`"${text}" is too large a number`)
  }
  if (/^[-+]?[\d.,]+$/.test(plain))
    return refuse(`"${text}" could be read two ways; write thousands as 1,234 and decimals as 1234.5`)
  return refuse(`"${text}" is not a number`)
}

/** A share written as percent: 87 or 87 % → 0.87. */
export function readPercent(text: string): Reading<number> {
  const number = readNumber(text)
  return number.ok ? read(number.value / 100) : number
}

/** Dollars → whole cents: $46.10 → 4610. Refuses fractions of a cent. */
export function readDollars(text: string): Reading<number> {
  const number = readNumber(text)
  if (!number.ok) return number
  const cents = Math.round(number.value * 100)
  if (Math.abs(cents - number.value * 100) > 1e-6) return refuse(`"${text}" has a fraction of a cent`)
  return read(cents)
}

export function readYesNo(text: string): Reading<boolean> {
  if (/^(y|yes|true|x|1)$/i.test(text.trim())) return read(true)
  if (/^(n|no|false|0)$/i.test(text.trim())) return read(false)
  return refuse(`"${text}" is neither yes nor no`)
}

/** Text as it stands, without the blanks around it. An accent is one sign with its letter: two that look alike are alike. */
export function readWords(text: string): Reading<string> {
  return read(text.trim().normalize('NFC'))
}

/**
 * Words that are one of a list, whatever their capitals.
 * @param alsoCalled the trade's other words for each of them, in small letters
 */
export function readOneOf<Word extends string>(
  words: readonly Word[],
  alsoCalled?: Readonly<Record<Word, readonly string[]>>,
): (text: string) => Reading<string> {
  return (text) => {
    const typed = text.trim().toLowerCase()
    const found = words.find((word) => word.toLowerCase() === typed || alsoCalled?.[word].includes(typed))
    return found === undefined ? refuse(`"${text}" is none of ${listed(words)}`) : read(found)
  }
}

/** Of a long list, as of a farm's fields, no more than serves to see what is meant. */
function listed(words: readonly string[]): string {
  return words.length > 8 ? `the ${words.length} that are there, as ${words.slice(0, 3).join(', ')}` : words.join(', ')
}

/** Parts separated by semicolons, each read on its own; empty parts are passed over. */
export function readList<Value>(readPart: (text: string) => Reading<Value>): (text: string) => Reading<Value[]> {
  return (text) => {
    const values: Value[] = []
    for (const part of text.split(';').filter((each) => each.trim() !== '')) {
      const reading = readPart(part.trim())
      if (!reading.ok) return reading
      values.push(reading.value)
    }
    return read(values)
  }
}
