import type { FuseV1Options } from '@electron/fuses'

export const fuses: Partial<Record<FuseV1Options, boolean>>
export function burnFuses(program: string): Promise<void>
