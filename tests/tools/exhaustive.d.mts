export function exhaustiveFiles(): string[]
