/** The sprays and rules that a new farm begins with: the south-east's usual ones, each with why, each to switch off. */
import type { Measure } from '../threat.ts'
import type { Rule } from '../rule.ts'

const priced = 'price from memory: enter your own'

export const usualPractices: readonly Measure[] = [
  {
    name: 'Full spray program (7 sprays)',
    group: 'fungicide',
    centsPerAcre: 10_500,
    efficacy: { 'early leaf spot': 0.9, 'late leaf spot': 0.9, 'southern stem rot': 0.65 },
    isPesticide: true,
    source: `Georgia sprays seven times (T31); how much each stops is our estimate; ${priced}`,
  },
  {
    name: 'Reduced spray program (5 sprays)',
    group: 'fungicide',
    centsPerAcre: 7500,
    efficacy: { 'early leaf spot': 0.8, 'late leaf spot': 0.8, 'southern stem rot': 0.5 },
    isPesticide: true,
    source: `3–6 sprays yielded as much in 13 of 14 Georgia trials (Peanut Science art. 1168); ${priced}`,
  },
  {
    name: 'In-furrow insecticide',
    group: 'in-furrow insecticide',
    centsPerAcre: 1400,
    efficacy: { 'spotted wilt': 0.35 },
    isPesticide: true,
    source: `9.4 points less wilt on susceptible varieties (Haynes et al., Peanut Science art. 1301); ${priced}`,
  },
  {
    name: 'Fumigant nematicide',
    group: 'nematicide',
    centsPerAcre: 6000,
    efficacy: { 'root-knot nematode': 0.6 },
    isPesticide: true,
    source: '$40–60 an acre applied in 2013 (Farm Progress); how much it stops is our estimate',
  },
]

export const usualRules: readonly Rule[] = [
  { rule: 'choose-rate', isOn: true, note: 'Seeding rates around the usual one are compared for each field.' },
  { rule: 'reserve', amount: 0.03, isOn: true, note: 'A little more seed than the rates call for. Our estimate.' },
  { rule: 'always-measure', subject: 'fungicide', isOn: true, note: 'Every field gets a fungicide program.' },
  {
    rule: 'nematode-threshold',
    amount: 10,
    isOn: true,
    note: '9–17 root-knot nematodes in 100 cc cost a tenth of the yield (Wheeler & Starr 1987).',
  },
  { rule: 'early-rating', subject: 'spotted wilt', amount: 4, isOn: true, note: 'Wilt is worst before May (T13).' },
  { rule: 'early-twin-rows', isOn: true, note: 'Twin rows have less wilt (Tubbs et al. 2011).' },
  { rule: 'early-stand', amount: 4, isOn: true, note: 'A full stand has less wilt (Peanut Science art. 1239).' },
  { rule: 'early-measure', subject: 'in-furrow insecticide', isOn: true, note: 'Thrips carry the wilt.' },
  { rule: 'insured-planting', isOn: true, note: 'Set the last day of your policy under Assumptions, Calendar.' },
  { rule: 'planter-hours', isOn: true, note: 'Counts once planters are entered.' },
  { rule: 'digger-hours', isOn: true, note: 'Counts once diggers are entered.' },
  { rule: 'combine-hours', isOn: true, note: 'Counts once combines are entered.' },
]
