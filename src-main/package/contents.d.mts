import type { Configuration } from 'electron-builder'

export const contents: Configuration
