/** XML for machines: elements with attributes, escaped, and nothing else. */

export interface Element {
  name: string
  /** Left out where undefined. */
  attributes: Record<string, string | number | undefined>
  children?: readonly Element[]
}

/** What XML 1.0 cannot hold at all is left out, as a NUL in a field's name. */
// eslint-disable-next-line no-control-regex -- these are the characters that XML forbids
const forbidden = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/g

function escaped(text: string): string {
  return text
    .replace(forbidden, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replace(/[\t\n\r]/g, (blank) => `&#${blank.charCodeAt(0)};`)
}

export function writeXml(root: Element): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${lines(root, '').join('\n')}\n`
}

function lines({ name, attributes, children = [] }: Element, indent: string): string[] {
  const pairs = Object.entries(attributes).flatMap(([key, value]) =>
    value === undefined ? [] : [` ${key}="${escaped(String(value))}"`],
  )
  if (children.length === 0) return [`${indent}<${name}${pairs.join('')}/>`]
  const inner = children.flatMap((child) => lines(child, `${indent}  `))
  return [`${indent}<${name}${pairs.join('')}>`, ...inner, `${indent}</${name}>`]
}
