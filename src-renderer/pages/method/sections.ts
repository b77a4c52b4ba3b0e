/**
 * How a plan is made, in a grower's words: each section with its formulas as the program has them. Figures are not typed
 * here: `worked` names what `example.ts` reckons. Long because it is the whole text of a page, to be read in one go.
 */
import { optionRules, ruleKinds, type RuleKind } from '../../../src-shared/rule.ts'

export interface Formula {
  /** What it gives, with its unit. */
  of: string
  is: string
  /** Ids of `example.ts`. */
  worked: readonly string[]
}

export interface Section {
  id: string
  title: string
  says: readonly string[]
  formulas?: readonly Formula[]
  after?: readonly string[]
  /** Sentences of house rules, under what they do. */
  rules?: readonly { title: string; kinds: readonly RuleKind[] }[]
  list?: readonly string[]
}

export const sections: readonly Section[] = [
  {
    id: 'decided',
    title: 'What is decided',
    says: [
      'For every field: which variety, in which planting window, with which measures. A field takes one variety, unless it may be split; then in blocks no smaller than its least block.',
      'For every quote: how many whole packs. Seed is bought for all fields of a variety together, and seed on hand goes before bought seed where that costs less.',
      'One such choice for a field is an option. Each is priced an acre, as below, and the plan is the set of options and packs that costs least in all and keeps every rule. Measures are looked at in every combination, at most one of each group; where there are too many, the plan says how many were left aside.',
    ],
  },
  {
    id: 'seed',
    title: 'Seed',
    says: [
      'Seed is bought by the pound and planted by the foot. The drop is the field’s own, or the house’s; where the field has a wanted stand instead, it is the least drop that leaves that stand. An early window can ask for a thicker stand, which raises it.',
    ],
    formulas: [
      { of: 'Row on an acre, ft', is: '43,560 ft² × 12 ÷ row spacing in inches', worked: ['row feet'] },
      { of: 'Seeds an acre', is: 'drop in seeds a foot × row on an acre', worked: ['seeds'] },
      { of: 'Seed, lb/acre', is: 'seeds an acre ÷ seed count in seeds a pound', worked: ['seed pounds'] },
      {
        of: 'Seeds that make a plant, share',
        is: 'germination × (emergence − fall for each seed a foot × (drop − usual drop)), held between 0.05 and 1',
        worked: ['emergence'],
      },
      { of: 'Stand, plants/ft', is: 'drop × share of seeds that make a plant', worked: ['stand'] },
    ],
    after: ['Twin rows count as one row position: spacing from pair to pair, and the drop of both drills together.'],
  },
  {
    id: 'crop',
    title: 'The crop',
    says: [
      'The yield goal is what the field really makes in a usual year, with your usual variety, planting window, stand, sprays and rotation. The program first takes out what the goal already contains. What is left is what the ground could make. Then it puts in the variety, stand, date and rotation of each option. With the usual choice it comes back to the goal, to the pound.',
      'Short rotation costs yield in two ways: through the diseases that are counted, and beside them. The published yields hold both, so the diseases are taken out of them first.',
    ],
    formulas: [
      {
        of: 'What the ground could make, lb/acre',
        is: 'yield goal ÷ everything at the usual choice',
        worked: ['attainable'],
      },
      {
        of: 'Stand, share of full yield',
        is: 'the published curve of plants a foot, as the mean of a poor, a usual and a good year',
        worked: ['stand share/usual', 'stand share'],
      },
      {
        of: 'Planting date, share of the best date',
        is: '1 − days off the best days × loss a day',
        worked: ['date share'],
      },
      {
        of: 'Rotation, × two years out',
        is: 'published share × (1 − diseases two years out) ÷ (1 − diseases this far out)',
        worked: ['rotation'],
      },
      {
        of: 'Yield before diseases, pests and digging, lb/acre',
        is: 'what the ground could make × yield index × stand × date × rotation',
        worked: ['yield before'],
      },
      {
        of: 'Expected yield, lb/acre',
        is: 'that × (1 − diseases and pests) × (1 − digging loss)',
        worked: ['yield'],
      },
    ],
  },
  {
    id: 'loss',
    title: 'Diseases and pests',
    says: [
      'Each disease or pest begins with the share that a variety rated 9 would lose at this pressure without sprays. The rating and every factor multiply the odds of it, share ÷ (1 − share). So no loss passes the whole crop, and a heavy epidemic overruns a middling rating. Each practice then leaves 1 less its efficacy.',
      'Leaf spots are counted in leaves first, because they cannot take the same leaf twice. Few missing leaves cost nothing; then each costs more than the one before.',
    ],
    formulas: [
      {
        of: 'One disease or pest without sprays, share',
        is: 'odds of the share at rating 9 × rating × factors, made a share again',
        worked: ['share/late leaf spot', 'share/spotted wilt'],
      },
      {
        of: 'What a stand does to it, × the odds',
        is: '1 + so much for each missing plant, within the stands that were studied',
        worked: ['stand factor/spotted wilt'],
      },
      {
        of: 'Yield lost to missing leaves, share',
        is: 'most loss × ((leaves lost − threshold) ÷ (1 − threshold)) to the power of the bend',
        worked: ['leaves', 'loss/leaves'],
      },
      {
        of: 'All together, share of yield',
        is: '1 − (1 − the first) × (1 − the second) × …',
        worked: ['loss'],
      },
      { of: 'Loss, $/acre', is: 'all together × what the crop would bring', worked: ['loss dollars'] },
    ],
    after: ['A soil count of nematodes stands for a pressure where you gave none.'],
  },
  {
    id: 'vine',
    title: 'Vine and harvest',
    says: [
      'For each vine on ground where vines grow slow, as usual or rank, the assumptions have a row: what is done about it and what that costs or saves, pods left in the ground, slower machines, and more leaf disease. A growth regulator is used where it brings more than it costs.',
      'Planted later, a variety takes fewer days to be ripe; once days are cool, more. From its best day on a field waits to be dug: digging in another week loses a share of the crop, and what waits goes to the weeks in which the machines have hours. It is combined some days later. All hours count against what the machines can do, where those rules are on.',
    ],
    formulas: [
      {
        of: 'Acres an hour',
        is: 'speed in mph × width in ft × field efficiency ÷ 8.25',
        worked: ['rate/digger', 'rate/combine'],
      },
      {
        of: 'Hours an acre',
        is: '(1 + slowing) × machine-hours a day ÷ acres a day of all of them',
        worked: ['digger hours', 'combine hours'],
      },
      {
        of: 'Days from planting to ripe',
        is: 'days to maturity, fewer for each day planted later; cool days count less',
        worked: ['ripening/warm days', 'ripening/days'],
      },
      {
        of: 'Yield of the digging week',
        is: '1 − loss × (days off the best day)²',
        worked: ['dig share', 'dig dollars'],
      },
      {
        of: 'What the vine costs, $/acre',
        is: 'share of pods left × crop left by diseases + extra hours × dollars an hour − gain by a growth regulator',
        worked: ['vine'],
      },
      {
        of: 'Practices and vine work, $/acre',
        is: 'the sum of what each costs; savings are taken off',
        worked: ['cash'],
      },
    ],
  },
  {
    id: 'money',
    title: 'What the crop brings',
    says: [
      'A pound leaves its price by contract, premium and grade, less drying and hauling. A variety goes by the contract that names its market type and oil type most closely; without one, by the price of peanuts and the premium of its oil type. Yield given up to variety, stand and date is counted against the best that the ground could bring. So the plan of least cost is the plan of greatest margin.',
    ],
    formulas: [
      { of: 'A pound leaves, $/lb', is: '(price × grade − drying and hauling) ÷ 2,000 lb', worked: ['price'] },
      { of: 'Crop, $/acre', is: 'yield before losses × what a pound leaves', worked: ['crop dollars'] },
      {
        of: 'The ground could bring, $/acre',
        is: 'what the ground could make × rotation × what the best variety leaves',
        worked: ['could dollars'],
      },
      {
        of: 'Yield given up, $/acre',
        is: 'what the ground could bring − what the crop would bring, not below 0',
        worked: ['give-up'],
      },
    ],
  },
  {
    id: 'buying',
    title: 'Buying',
    says: [
      'A break on packs gives its price to every pack of that quote, not only to those beyond it. A dealer’s break on the total takes so much off every pound of that dealer. An order fee is paid once for each dealer that anything is ordered from. Least packs, least order, packs available and the most a dealer delivers are kept. A quote whose last day is over is left out and named.',
    ],
    formulas: [
      {
        of: 'Packs, whole',
        is: '(pounds of all fields of the variety × (1 + reserve) − carried seed used) ÷ pounds a pack, rounded up',
        worked: ['packs'],
      },
      { of: 'Price after the break', is: 'that of the highest break that the packs reach', worked: ['pack price'] },
      { of: 'Order, $', is: 'packs × price − pounds × dealer’s break + order fee', worked: ['order'] },
      {
        of: 'One deviation of the need, share',
        is: 'root of the sum of squares: seed count, emergence, planter, acreage',
        worked: ['variation'],
      },
      {
        of: 'Reserve by chance',
        is: 'enough seed in (cost of a pound short) ÷ (cost of a pound short + cost of a pound left) of all years, not below 0',
        worked: ['reserve'],
      },
    ],
    after: ['The reserve is a fixed share, or by chance, which goes first where both rules are on.'],
  },
  {
    id: 'cost',
    title: 'What is made least',
    says: [
      'One sum over the whole farm. Cash is paid; the rest is not, but counts as if it were. A rule says what a dollar of expected loss weighs beside a dollar of cash. Acres left out and fields moved from the plan in hand count where rules say so.',
    ],
    formulas: [
      {
        of: 'Cost, $',
        is: 'seed + practices and vine work + weight × expected loss + what the vine costs + yield given up + acres left out + fields moved',
        worked: ['seed dollars', 'cost'],
      },
    ],
    after: [
      'Margin is what the ground could bring less all of these, less digging and combining, and less what every acre costs anyway. Land and overhead are not in it.',
    ],
  },
  {
    id: 'rules',
    title: 'What rules do',
    says: [
      'Every rule can be switched off under House rules, and the plan works out what each of them costs. There are three kinds:',
    ],
    rules: [
      {
        title: 'They forbid an option before any plan is sought',
        kinds: optionRules,
      },
      {
        title: 'They limit the plan as a whole',
        kinds: [
          'largest-share',
          'fewest-varieties',
          'most-varieties',
          'most-dealers',
          'budget',
          'contract',
          'planter-hours',
          'digger-hours',
          'combine-hours',
        ],
      },
      {
        title: 'They change what is counted, or how much seed is bought',
        kinds: ['risk-weight', 'yield-left-out', 'choose-rate', 'reserve', 'reserve-by-chance', 'may-rest', 'stay-put'],
      },
    ],
    after: [
      'Besides, the vine table can say “do not plant”, a field can be locked to a variety or a variety left off it, and a field is planted only in its own windows. Hours in a window or week are machines × hours a day × days fit for work.',
      'Where no plan keeps every rule, the rules that clash are named, with by how much one of them would have to give way.',
    ],
  },
  {
    id: 'proof',
    title: 'How a plan is proven',
    says: [
      'First the problem is solved with fields in any share and packs in any fraction. That is easier, and no real plan can cost less than its answer: this is the bound. Then plans in whole packs are sought, and the bound is raised, until the two are close. The distance is the gap: (cost − bound) ÷ cost.',
    ],
    list: [
      '“Proven least cost”: no plan that keeps the rules costs less, by the figures entered. Where it says “to within x %”, one may exist that is cheaper by the dollars named, and none by more.',
      '“Within x % of least cost”: time ran out first. The plan keeps every rule and can be used; the dollars named are the most that more time could save.',
      '“Stopped at your request, within x %”: the same, ended by you.',
      '“No plan keeps every rule”: that is proven, not guessed. “No plan was found yet” proves nothing.',
    ],
    after: [
      'What it does not let you conclude: that the loss will be what was expected, that the figures are right, or that a plan of nearly the same cost would be a mistake. A proof is about the sum, not about the year.',
      'Every plan is then tested again, rule by rule and cent by cent, by a part of the program that knows nothing of the search. One that fails is not shown. Between plans that cost the same to half a cent a fixed order decides: the fewest fields moved from the plan in hand, then by name. The same figures give the same plan, unless time or you ended the search.',
      'A difference between two plans is told only where it is larger than what their two gaps leave open; else it is “no measurable difference”. “At least” is a quick bound, often far below the truth.',
    ],
  },
  {
    id: 'spring',
    title: 'Spring: rates, and which lot goes where',
    says: [
      'A lot’s germination is that of its newest test, else its tag, else the variety’s; its seed count your own, else the tag’s, else the variety’s. The drop is set so that the stand stays the one that was planned. Checks of a tag warn; they change no rate and no cost.',
      'Lots are placed variety by variety, so that the trouble is least: lots at a field, hoppers emptied in a window, weak seed on early ground, last year’s seed left. A field goes without seed only where there is none for it. That is solved and proven as a plan is, and a lot that you keep somewhere stays there.',
    ],
    formulas: [
      {
        of: 'Drop of a lot, seeds/ft',
        is: 'the least that leaves the planned stand at the lot’s germination',
        worked: ['lot drop'],
      },
      { of: 'Trouble, $', is: 'the sum of what the book says of each', worked: ['lots'] },
    ],
  },
  {
    id: 'fall',
    title: 'Fall: loads, the review and lessons',
    says: [
      'A load is worth what the settlement says was paid, else its net weight at the price of the contract or the day, else by the loan schedule: each percent of sound mature kernels and sound splits at its rate. Discounts are the buyer’s; none is taken unless you fill it in.',
      'The review takes bills where they are written down, else the orders and the rates of the book on the ground that was really planted and harvested. A bill is shared by acres or by pounds, to the cent, so that fields, varieties, dealers and lots each add up to the same farm. From seed planned to seed paid it goes in steps that add up to the cent.',
      'Means are given with an interval that holds the true one nineteen times in twenty, and two varieties are told apart only where the interval of their difference does not hold zero.',
    ],
    formulas: [
      {
        of: 'Net weight, lb',
        is: 'gross − tare − foreign material − loose kernels − water above what is free',
        worked: ['net weight'],
      },
      {
        of: 'By the loan schedule, $',
        is: 'dollars a ton × net weight ÷ 2,000 lb',
        worked: ['loan rate', 'load value'],
      },
      {
        of: 'Seed paid − seed planned, $',
        is: 'price + rate planted + acres in all + mix of varieties + seed left + returns; order fees and bills of no lot beside them',
        worked: ['walk'],
      },
      {
        of: 'A lesson’s new value',
        is: 'old + weight × (seen − old); weight = what speaks ÷ (what speaks + what the old value counts as)',
        worked: ['lesson'],
      },
    ],
  },
  {
    id: 'limits',
    title: 'What it does not know',
    says: [],
    list: [
      'Next year’s weather. Losses are what one expects over many years; “Other years” on the plan shows a calm and a hard one.',
      'Whether the pressure, the ratings and the yield goals entered are right. A rating is a rank, and how much each step is worth is our estimate.',
      'How threats help or hinder each other: they are taken one by one.',
      'How the size of a field, its shape or its distance bears on hours; what a hopper change costs, unless a least block or the placing of lots says so.',
      'Digging on the right day. A field is taken to be dug in its week; what a delay costs is shown nowhere in a plan.',
      'Returns in a plan: seed sent back is not counted on, since whether it can be is known only after planting.',
      'What is on a label. Rates, re-entry and days to harvest are not shipped with the program.',
    ],
  },
]

const subjects = {
  threat: 'a threat',
  variety: 'any one variety',
  'variety?': 'any one variety',
  'oil type': 'an oil type',
  'measure group': 'a kind of measure',
} as const

/** A rule as it is said, with a blank for its amount. */
export function ruleSays(kind: RuleKind): string {
  const { says, subject } = ruleKinds[kind]
  return says.replace('{amount}', '…').replace('{subject}', subject === null ? '' : subjects[subject])
}

/** How a number is known, in the words of the book. */
export const kindSays = {
  published: 'stands in the source that is named beside it',
  derived: 'worked out from such a source, with the step told, as the middle of its range',
  'common practice': 'usual in the trade; no source was found',
  'our estimate': 'the direction may be known; the size is our own',
  'from memory': 'remembered, not looked up',
} as const
