export function exhaustiveFiles(): string[]
export function safetyFiles(): string[]
export function heaviestFirst(files: string[]): string[]
