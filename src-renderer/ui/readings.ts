/** Several typed texts read together: all their values, or for each that does not read the reason why. */
import type { Reading } from '../../src-shared/read-text.ts'
import { readNumber, readWords } from '../../src-shared/read-text.ts'

/** Nothing typed is null. */
export function readOptional<Value>(text: string, read: (text: string) => Reading<Value>): Reading<Value | null> {
  return text.trim() === '' ? { ok: true, value: null } : read(text)
}

export const optionalNumber = (text: string) => readOptional(text, readNumber)
export const optionalWords = (text: string) => readOptional(text, readWords)

type ValuesOf<Readings> = { [Name in keyof Readings]: Readings[Name] extends Reading<infer Value> ? Value : never }

export function readAll<Readings extends Record<string, Reading<unknown>>>(
  readings: Readings,
): { ok: true; values: ValuesOf<Readings> } | { ok: false; wrong: Record<string, string> } {
  const wrong: Record<string, string> = {}
  const values: Record<string, unknown> = {}
  for (const [name, reading] of Object.entries(readings)) {
    if (reading.ok) values[name] = reading.value
    else wrong[name] = `${reading.what}.`
  }
  return Object.keys(wrong).length > 0 ? { ok: false, wrong } : { ok: true, values: values as ValuesOf<Readings> }
}

/** A number as it would be typed; nothing for none. */
export function typedNumber(value: number | null, decimals = 4): string {
  return value === null ? '' : String(Number(value.toFixed(decimals)))
}
