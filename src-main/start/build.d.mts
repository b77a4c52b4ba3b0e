export const project: string
export function buildIfNeeded(): Promise<void>
