export const deeds: string[]
export function breakDisk(fault: {
  at: number
  how: 'ENOSPC' | 'EIO' | 'EACCES' | 'kill'
  forever?: boolean
  below: string
}): { done: string[]; undo: () => void }
