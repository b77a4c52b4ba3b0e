export function sampleSeed(env?: Record<string, string | undefined>): string
