/**
 * Draws the icon of `src-main/package/icon/icon.svg` in every size and form that the systems ask for, in Chromium.
 * `node tests/tools/draw-icon.mjs`, after the drawing was changed; what it writes is kept in git beside the drawing.
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium } from '@playwright/test'
import { chromiumArgs, findChromium } from './chromium.mjs'

const folder = fileURLToPath(new URL('../../src-main/package/icon', import.meta.url))

const linuxSizes = [16, 32, 48, 64, 128, 256, 512]
const windowsSizes = [16, 24, 32, 48, 64, 128, 256]
/** The kinds of an .icns file that hold a PNG, with the size of each [px]; those of double density come last. */
const appleKinds = [
  ['icp4', 16],
  ['icp5', 32],
  ['icp6', 64],
  ['ic07', 128],
  ['ic08', 256],
  ['ic09', 512],
  ['ic10', 1024],
  ['ic11', 32],
  ['ic12', 64],
  ['ic13', 256],
  ['ic14', 512],
]

/** @returns {Promise<Map<number, Buffer>>} a PNG for each size, on nothing */
async function draw(sizes) {
  const browser = await chromium.launch({ executablePath: findChromium() ?? undefined, args: chromiumArgs })
  try {
    const drawing = readFileSync(join(folder, 'icon.svg'), 'utf8')
    const drawn = new Map()
    for (const size of sizes) {
      const page = await browser.newPage({ viewport: { width: size, height: size } })
      await page.setContent(`<style>body { margin: 0 } svg { display: block; width: 100vw }</style>${drawing}`)
      drawn.set(size, await page.screenshot({ omitBackground: true }))
      await page.close()
    }
    return drawn
  } finally {
    await browser.close()
  }
}

/** An .ico file: a head, sixteen bytes for each picture, then the pictures as PNG. */
function ico(pictures) {
  const head = Buffer.alloc(6 + 16 * pictures.length)
  head.writeUInt16LE(1, 2)
  head.writeUInt16LE(pictures.length, 4)
  let offset = head.length
  pictures.forEach(([size, png], index) => {
    const at = 6 + 16 * index
    // One byte each for width and height, where 0 stands for 256.
    head.writeUInt8(size % 256, at)
    head.writeUInt8(size % 256, at + 1)
    head.writeUInt16LE(1, at + 4)
    head.writeUInt16LE(32, at + 6)
    head.writeUInt32LE(png.length, at + 8)
    head.writeUInt32LE(offset, at + 12)
    offset += png.length
  })
  return Buffer.concat([head, ...pictures.map(([, png]) => png)])
}

/** An .icns file: a head, then each picture behind its kind and length. */
function icns(pictures) {
  const parts = pictures.map(([kind, png]) => {
    const head = Buffer.alloc(8)
    head.write(kind, 'latin1')
    head.writeUInt32BE(8 + png.length, 4)
    return Buffer.concat([head, png])
  })
  const head = Buffer.alloc(8)
  head.write('icns', 'latin1')
  head.writeUInt32BE(8 + parts.reduce((sum, part) => sum + part.length, 0), 4)
  return Buffer.concat([head, ...parts])
}

const sizes = new Set([...linuxSizes, ...windowsSizes, ...appleKinds.map(([, size]) => size)])
const drawn = await draw([...sizes])
rmSync(join(folder, 'linux'), { recursive: true, force: true })
mkdirSync(join(folder, 'linux'))
for (const size of linuxSizes) writeFileSync(join(folder, 'linux', `${size}x${size}.png`), drawn.get(size))
writeFileSync(join(folder, 'icon.ico'), ico(windowsSizes.map((size) => [size, drawn.get(size)])))
writeFileSync(join(folder, 'icon.icns'), icns(appleKinds.map(([kind, size]) => [kind, drawn.get(size)])))
