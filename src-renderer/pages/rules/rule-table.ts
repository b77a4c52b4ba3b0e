/** The house rules as a table to be written out: each in its sentence, in the order of the page. Pure. */
import { ruleKinds, type Rule } from '../../../src-shared/rule.ts'
import type { TableOut } from '../../sheet/table-out.ts'
import { amountText, groupsOfRules, unitsOf } from './sentence.ts'

export function ruleTable(rules: readonly Rule[]): TableOut {
  return {
    headers: ['What it is about', 'Rule', 'On', 'Note'],
    rows: groupsOfRules().flatMap(({ title, kinds }) =>
      kinds.flatMap((kind) =>
        rules
          .filter(({ rule }) => rule === kind)
          .map((rule) => [title, sentenceOf(rule), rule.isOn ? 'yes' : 'no', rule.note ?? null]),
      ),
    ),
  }
}

function sentenceOf({ rule, amount, subject }: Rule): string {
  const { before, after } = unitsOf(rule)
  const words = `${before}${amountText(rule, amount)}${after === '' ? '' : ` ${after}`}`
  return ruleKinds[rule].says.replace('{amount}', words).replace('{subject}', subject ?? 'any one variety')
}
