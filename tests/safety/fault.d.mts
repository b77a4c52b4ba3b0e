export const deeds: string[]
export const questions: string[]
export function breakDisk(fault: {
  at: number
  /** A code of the system, or `kill`. */
  how: string
  forever?: boolean
  below: string
  reading?: boolean
}): { done: string[]; undo: () => void }
