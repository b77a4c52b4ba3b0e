/**
 * Nothing leaves the computer: a walk through the desktop window in a real Electron, with every network call of all its processes
 * on record. The record is the system's own (strace), so that no layer of Chromium can hide one.
 */
import { expect, test } from '@playwright/test'
import { chmodSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { findProgram } from '../tools/chromium.mjs'
import { closeDesk, openDesk, program, skipWithoutDesk, type Desk } from './desk.ts'
import { stages } from '../../src-renderer/frame/stages.ts'
import { frames } from './frames.ts'

skipWithoutDesk()
test.skip(process.platform !== 'linux', 'network calls are recorded on Linux only')
test.skip(findProgram('strace') === null, 'no strace; install it')
test.setTimeout(300_000)

/** Calls that reach beyond this computer, as strace writes them. */
function outward(record: string): string[] {
  return record
    .split('\n')
    .filter((line) => /\b(connect|sendto|sendmsg|sendmmsg)\(/.test(line))
    .filter((line) => /AF_INET6?\b/.test(line))
    .filter((line) => !/inet_addr\("127\.[\d.]+"\)|"::1"|"::ffff:127\.[\d.]+"/.test(line))
}

test('sees what reaches out, and passes over this computer', () => {
  const to = (address: string) =>
    `7 connect(3, {sa_family=AF_INET, sin_port=htons(53), sin_addr=inet_addr("${address}")}, 16) = 0`
  const six = (address: string) =>
    `7 connect(3, {sa_family=AF_INET6, sin6_port=htons(443), inet_pton(AF_INET6, "${address}", &sin6_addr)}, 28) = -1`
  const dns =
    '7 sendto(3, "..", 40, 0, {sa_family=AF_INET, sin_port=htons(53), sin_addr=inet_addr("10.0.0.2")}, 16) = 40'
  const unix = '7 connect(3, {sa_family=AF_UNIX, sun_path="/run/dbus"}, 110) = 0'
  expect(outward([to('127.0.0.1'), six('::1'), unix].join('\n'))).toEqual([])
  expect(outward([to('10.0.0.2'), six('2001:db8::1'), dns].join('\n'))).toHaveLength(3)
})

test('a walk through the window sends nothing to any other computer', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'standwell-network-'))
  const record = join(folder, 'record')
  const wrapped = join(folder, 'electron')
  writeFileSync(wrapped, `#!/bin/sh\nexec strace -f -qq -s 60 -e trace=network -o "${record}" "${program}" "$@"\n`)
  chmodSync(wrapped, 0o755)
  let desk: Desk | null = null
  let languages: string[]
  let walked: number
  try {
    desk = await openDesk([], wrapped)
    expect(await desk.call('farm.openDemo', {})).toMatchObject({ ok: true })
    for (const { id, label } of stages) {
      await desk.page.evaluate((to) => void (location.hash = to), id)
      await expect(desk.page.getByRole('heading', { level: 1, name: label, exact: true })).toBeVisible()
      await frames(desk.page, 20)
    }
    // Where a person types, a browser checks spelling.
    const input = desk.page.locator('input[type="text"], input:not([type]), textarea').first()
    if ((await input.count()) > 0)
      await input.pressSequentially('A naem that is mispelt ', { timeout: 5000 }).catch(() => undefined)
    await desk.page.evaluate(async () => {
      await fetch('https://example.org/').catch(() => undefined)
    })
    await frames(desk.page, 30)
    walked = statSync(record).size
    await desk.page.evaluate(async () => {
      const peer = new RTCPeerConnection({ iceServers: [{ urls: 'stun:192.0.2.7:3478' }] })
      peer.createDataChannel('any')
      await peer.setLocalDescription()
      await new Promise((done) => setTimeout(done, 3000))
    })
    languages = await desk.app.evaluate(({ session }) => session.defaultSession.getSpellCheckerLanguages())
  } finally {
    if (desk) await closeDesk(desk)
  }
  const bytes = readFileSync(record)
  rmSync(folder, { recursive: true, force: true })
  const [walk, peer] = [bytes.toString('utf8', 0, walked), bytes.toString('utf8', walked)]
  // The record is one of this walk: the runner itself speaks to the window by loopback.
  expect(walk).toMatch(/AF_INET/)
  expect(outward(walk)).toEqual([])
  expect(languages).toEqual([])
  // A page that speaks to a peer, which none of ours does: Chromium asks the system for its own address, by connecting a socket
  // without a packet, and sends nothing.
  expect(outward(peer).filter((line) => /send/.test(line) || !/htons\(53\)/.test(line))).toEqual([])
})
