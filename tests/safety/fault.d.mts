export const deeds: string[]
export function breakDisk(fault: {
  at: number
  /** A code of the system, or `kill`. */
  how: string
  forever?: boolean
  below: string
}): { done: string[]; undo: () => void }
