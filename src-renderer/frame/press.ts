/**
 * A press on a button or link counts although the page shifts beneath the finger: leaving a box keeps what was typed, the
 * answer comes within the tenth of a second that a press lasts, and a line that appears or goes would take the button away
 * from under it. Whoever slides off on purpose is let go.
 */
const slip = 12 // [px] a hand's tremble, less than the way off a button

let from: { button: HTMLElement; pointer: number; x: number; y: number } | null = null

export function holdPress(event: PointerEvent) {
  from = null
  if (event.button !== 0 || !(event.target instanceof Element)) return
  const button = event.target.closest<HTMLElement>('button:enabled, a[href]')
  if (!button) return
  button.setPointerCapture(event.pointerId)
  from = { button, pointer: event.pointerId, x: event.clientX, y: event.clientY }
}

export function letSlip(event: PointerEvent) {
  if (!from || event.pointerId !== from.pointer) return
  if (Math.hypot(event.clientX - from.x, event.clientY - from.y) <= slip) return
  if (from.button.hasPointerCapture(from.pointer)) from.button.releasePointerCapture(from.pointer)
  from = null
}
