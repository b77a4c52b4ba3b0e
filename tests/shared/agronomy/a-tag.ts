/** Invented: a lot whose tag says everything and is within every limit, for tests to spoil one item at a time. */
import type { TagFacts } from '../../../src-shared/agronomy/tag-checks.ts'

export function fullTag(): TagFacts {
  return {
    lot: { variety: 'Amber', lotNumber: '0071-A' },
    promised: { germination: 0.85, seedsPerPound: 680, isTreated: true },
    arrivedOn: '2027-04-12',
    tests: [],
    tag: {
      kind: 'Peanut',
      variety: 'Amber',
      lotNumber: '0071-A',
      origin: 'Nowhere',
      seedClass: 'certified',
      pureSeed: 0.9855,
      otherCrop: 0.0001,
      inert: 0.0144,
      weedSeed: 0,
      noxiousKinds: 'none',
      noxiousPerPound: 0,
      noxiousFound: null,
      noxiousSamplePounds: null,
      germination: 0.88,
      hardSeed: 0,
      testedIn: '2026-11',
      isHermetic: false,
      isTreated: true,
      treatment: 'a fungicide',
      caution: 'Not for food, feed or oil.',
      shipper: 'North Seed, Nowhere',
      seedsPerPound: 672,
      netPounds: 50,
    },
  }
}
