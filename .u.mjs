import { chromium } from '@playwright/test'
import { fork } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
const child = fork('out/main/start-alone.js', { env: { ...process.env, STANDWELL_HOME: '/tmp/bh/large', STANDWELL_PORT: '' }, stdio: ['ignore','ignore','inherit','ipc'] })
const [{ address }] = await once(child, 'message')
const b = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox','--disable-gpu'] })
const p = await b.newPage({ viewport: { width: 1366, height: 768 } })
await p.addInitScript(()=>{ const f=window.fetch; window.T=[]; window.fetch=async(u,o)=>{ const n=String(u).split('/').pop(); const t=performance.now(); const r=await f(u,o); const j=r.json.bind(r); r.json=async()=>{const v=await j(); window.T.push(n+' '+Math.round(t-window.B)+'–'+Math.round(performance.now()-window.B)); return v}; return r } })
await p.goto(address)
await p.waitForTimeout(1500)
const src = readFileSync('tests/speed/app.bench.ts','utf8')
let edits = /const edits = `([\s\S]*?)`\n/.exec(src)[1].replace('const began = performance.now()','const began = performance.now(); window.T=[]; window.B=began').replace('spent.push(performance.now() - began)','spent.push((performance.now()-began).toFixed(0)); await new Promise(d=>setTimeout(d,100)); spent.push(window.T.join(", "))')
const r = await p.evaluate(edits); console.log(r.slice(-10).join('\n'))
await b.close(); child.kill()
