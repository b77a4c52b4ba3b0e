import type { TestSequencerConstructor } from 'vitest/node'
declare const byWeight: TestSequencerConstructor
export default byWeight
