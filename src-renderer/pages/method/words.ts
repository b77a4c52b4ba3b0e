/** The trade's words as the window uses them, each in one or two plain sentences. Sorted where they are shown. */
import { byName } from '../../../src-shared/name-order.ts'

export interface Word {
  word: string
  says: string
}

export const words: readonly Word[] = [
  {
    word: 'House book',
    says: 'Every figure that could be disputed, with its source, how it is known, and your own value beside it.',
  },
  { word: 'What risk counts', says: 'How many dollars of cash a dollar of expected loss counts as.' },
  { word: 'Comes in', says: 'A variety that the plan left out comes in at the price at which the plan would take it.' },
  {
    word: 'Fit for planting',
    says: 'Of days: dry enough to work. So many of them in a window, and so many a week in the fall, are what machines can use.',
  },
  { word: 'Curve', says: 'Plans from the least cash to the least expected loss, each the cheapest at its loss.' },
  {
    word: 'Proven least cost',
    says: 'No plan that keeps the rules costs less, by the figures entered. It says nothing of the year to come.',
  },
  {
    word: 'Rule',
    says: 'What the house will not do, or how something counts, as a sentence that can be switched off.',
  },
  {
    word: 'Out of date',
    says: 'Of a plan: something it was made from has changed since. It is kept as it was until it is worked out again.',
  },
  {
    word: 'Replanting',
    says: 'Planting a thin stand again. Set against keeping it: new seed, the work, and yield lost by coming later.',
  },
  { word: 'Hopper', says: 'The seed box of a planter. It is emptied when another lot follows.' },
  { word: 'Interval', says: 'Two figures between which the true mean lies nineteen times in twenty.' },
  {
    word: 'Acres an hour',
    says: 'What a machine covers while it works, turns and stops included; see field efficiency.',
  },
  {
    word: 'Bag',
    says: 'A pack that can be carried, most often of 50 pounds; see pack.',
  },
  { word: 'Balance', says: 'Of a lot: what came, less what was planted and what went back.' },
  { word: 'Block', says: 'A part of a field with one variety, where a field is split; else the whole field.' },
  {
    word: 'Bound',
    says: 'A cost that no plan keeping the rules can be below. It comes from an easier problem, solved first.',
  },
  { word: 'Budget', says: 'The most that may be paid for seed and measures together.' },
  { word: 'Carried seed', says: 'Seed left from an earlier season, on hand. It needs a new germination test.' },
  { word: 'Cash', says: 'What is really paid: seed, order fees, measures and vine work. Expected loss is not in it.' },
  {
    word: 'Certified',
    says: 'A class of seed with its own least germination and purity, grown and tagged under a state’s scheme.',
  },
  {
    word: 'Contract',
    says: 'Acres of an oil type that are promised to a buyer, so that at least so many must be planted.',
  },
  { word: 'Damaged kernels', says: 'Kernels in the graded sample that are rotten, moldy or otherwise spoilt.' },
  {
    word: 'Days to maturity',
    says: 'From planting to digging, as the variety is known for; a plan takes the week of digging from it.',
  },
  { word: 'Defoliation', says: 'Leaves lost to leaf spot, in points out of a hundred.' },
  { word: 'Deposit', says: 'The share of an order that is paid when it is placed.' },
  {
    word: 'Digging',
    says: 'Lifting the plants out of the ground and turning them over: see inverting. When it is done decides how many pods are ripe and how many stay behind.',
  },
  {
    word: 'Draft',
    says: 'A plan worked out for a question, beside the plan in hand, which stays as it is until the draft is made the plan.',
  },
  { word: 'Drop', says: 'Seeds that the planter lets fall on a foot of row; on twin rows both drills together.' },
  { word: 'Dryland', says: 'Ground without irrigation.' },
  {
    word: 'Early leaf spot',
    says: 'A leaf disease that begins early and strips leaves; it lives on old peanut residue and likes wet leaves.',
  },
  { word: 'Efficacy', says: 'The share of a threat’s loss that a measure prevents.' },
  { word: 'Emergence', says: 'The share of seeds able to germinate that come up as plants in the field.' },
  {
    word: 'Expected loss',
    says: 'What threats would take of a field’s crop on the average of many years, as a share of yield or in dollars.',
  },
  {
    word: 'Field efficiency',
    says: 'The share of a machine’s speed times width that is left after turns, overlap and stops.',
  },
  {
    word: 'Foreign material',
    says: 'What is in a load and is not peanut: dirt, sticks, stones, vines. It is taken off the weight.',
  },
  { word: 'Fungicide', says: 'A product against diseases by fungi, as leaf spot or stem rot. The label is the law.' },
  { word: 'Gap', says: 'How far a plan’s cost may be above the least there is: (cost − bound) ÷ cost.' },
  {
    word: 'Germination',
    says: 'The share of seeds that make a normal seedling in the laboratory, as the tag or a test says. The field brings up fewer: see emergence.',
  },
  {
    word: 'Grade',
    says: 'What a sample of a load was found to be made of. Of a variety: the price a ton that its usual grade brings, against the farm’s usual = 1.',
  },
  { word: 'Gross', says: 'What the scale says with the load on, truck or wagon included.' },
  {
    word: 'Growth regulator',
    says: 'A product that holds a big vine back. Trials disagree about what it gains; none is counted unless the book says so.',
  },
  { word: 'High oleic', says: 'An oil type that keeps longer; contracts may ask for it.' },
  { word: 'Hulls', says: 'The shells in the graded sample.' },
  {
    word: 'In-furrow',
    says: 'Put into the open row with the seed as it is planted, as an insecticide or a nematicide.',
  },
  { word: 'Inert matter', says: 'On a tag: the share of the pack that is no seed at all.' },
  {
    word: 'Inverting',
    says: 'Laying dug plants with the pods up, so that they dry in the sun. A big vine inverts badly.',
  },
  { word: 'Irrigated', says: 'Ground that can be watered.' },
  {
    word: 'Late leaf spot',
    says: 'A leaf disease that comes later than early leaf spot and is harder to stop once it is there.',
  },
  {
    word: 'Lesson',
    says: 'A value of winter that the season speaks against, with what was seen and how far that moves it. You take it or set it aside.',
  },
  {
    word: 'Loan schedule',
    says: 'Federal rates of a crop year: so many dollars a ton for each percent of sound kernels.',
  },
  { word: 'Lock', says: 'A variety that a field is held to, whatever it costs.' },
  {
    word: 'Loose kernels',
    says: 'Kernels that came out of their shells before the load was sold. They are weighed apart and bring less.',
  },
  {
    word: 'Lot',
    says: 'Seed of one variety that was conditioned and tested together and has one number. Two lots of a variety can differ in count and germination.',
  },
  {
    word: 'Measure',
    says: 'What is done against a threat: a spray schedule, a product in the furrow. It has a cost an acre and an efficacy.',
  },
  {
    word: 'Moisture',
    says: 'Water in a load as a share of it. What is above the buying point’s limit is taken off the weight.',
  },
  {
    word: 'Nematode',
    says: 'A small worm in the soil that feeds on roots and pods: here the root-knot nematode. Counted in juveniles for 100 cc of soil.',
  },
  { word: 'Net weight', says: 'Gross less tare, foreign material, loose kernels and the water above what is free.' },
  {
    word: 'Noxious weeds',
    says: 'Weeds whose seed a state’s law forbids or limits; a tag names the kinds and how many there are.',
  },
  { word: 'Option', says: 'One variety, window and set of measures for one field, priced an acre.' },
  { word: 'Order fee', says: 'What a dealer asks once for an order, however large.' },
  { word: 'Other kernels', says: 'Small or shrivelled kernels in the graded sample, sold for less.' },
  {
    word: 'Pack',
    says: 'What a dealer sells as one piece, a bag or a larger one, with its own pounds. A plan buys whole packs.',
  },
  { word: 'Plan in hand', says: 'The plan that orders, rates and the running line go by.' },
  { word: 'Planting window', says: 'Days between which a field can be planted; early, usual or late.' },
  { word: 'Pressure', says: 'How much of a threat a field has shown: none, low, moderate, high or severe.' },
  { word: 'Price break', says: 'From so many packs on, every pack of the quote is cheaper, not only those beyond.' },
  { word: 'Pure seed', says: 'On a tag: the share of the pack that is seed of the kind named.' },
  {
    word: 'Quote',
    says: 'What a dealer asks for a pack of a variety: price, breaks, how many there are and the last day to order.',
  },
  { word: 'Rank', says: 'Ground on which vines grow too big; see vine.' },
  {
    word: 'Rating',
    says: 'How easily a variety is hurt by a threat, 1 hardly at all to 9 very much. It ranks; it does not measure.',
  },
  {
    word: 'Recall sheet',
    says: 'Everything that is known of a lot and the ground it went into, for the day a dealer calls it back.',
  },
  { word: 'Reserve', says: 'Seed ordered beyond what the rates call for, as a share of it.' },
  {
    word: 'Return',
    says: 'Unopened packs that go back to the dealer for a credit, until the day that the quote names.',
  },
  { word: 'Rotation', says: 'What grew on a field in the years before; see years out.' },
  { word: 'Row spacing', says: 'Inches from row to row, centre to centre; on twin rows from pair to pair.' },
  { word: 'Runner', says: 'A market type of peanut, as Virginia, Spanish and Valencia are. Loan rates differ by it.' },
  { word: 'Seed count', says: 'Seeds in a pound. Small seed has more of them, so that fewer pounds plant an acre.' },
  {
    word: 'Segregation',
    says: 'The class 1, 2 or 3 that a grader gives a load by its damaged kernels and by mold that can be seen.',
  },
  { word: 'Settlement', says: 'The buying point’s paper for a load: weights, grade and what was paid.' },
  {
    word: 'Sound mature kernels',
    says: 'Whole, ripe, healthy kernels as a share of the sample: most of what the price goes by.',
  },
  { word: 'Sound splits', says: 'Kernels that are healthy but fell into halves.' },
  { word: 'Southern stem rot', says: 'A soil disease that rots stems and pods at the ground, also called white mold.' },
  {
    word: 'Spotted wilt',
    says: 'A virus that thrips carry; it stunts plants. Resistant varieties, good stands and twin rows help, and planting neither too early nor too thin.',
  },
  { word: 'Stand', says: 'Plants on a foot of row that came up and stayed.' },
  { word: 'Strip tillage', says: 'Only a strip for the row is tilled; the residue stays between.' },
  {
    word: 'Tag',
    says: 'The paper on a pack: variety, lot, purity, germination, when it was tested, and with what it is treated.',
  },
  { word: 'Tare', says: 'The truck or wagon empty.' },
  { word: 'Threat', says: 'A disease, virus or pest that takes part of the crop, as the farm lists them.' },
  {
    word: 'Tolerance',
    says: 'How far a second test may differ from the tag by chance alone; tables of the federal seed rules say so.',
  },
  { word: 'Treated seed', says: 'Seed coated against diseases and insects. It is poisonous: never food, feed or oil.' },
  { word: 'Twin rows', says: 'Two drills a few inches apart in place of one row. They count as one row position.' },
  {
    word: 'Vine',
    says: 'How big a variety grows: compact, medium, large or very large. A big one makes leaf spot worse, inverts badly and slows the combine.',
  },
  {
    word: 'Weak seed',
    says: 'A lot with a germination below the book’s warning. It is kept off early, cold ground where it can be.',
  },
  {
    word: 'Yield goal',
    says: 'Pounds an acre that the farm’s usual variety makes on a field in a usual year, two years out of peanut.',
  },
  { word: 'Years out', says: 'Whole seasons since the last peanut crop on a field: 0 where last year was peanut.' },
]

/** Those in which what was typed is found, by the word before by what is said of it; all, by letter, while nothing is. */
export function findWords(typed: string): Word[] {
  const wanted = typed.trim().toLowerCase()
  const sorted = words.toSorted(byName(({ word }) => word))
  const isIn = (text: string) => text.toLowerCase().includes(wanted)
  return sorted.filter(({ word, says }) => isIn(word) || isIn(says))
}
