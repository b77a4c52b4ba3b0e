import { chromium } from '@playwright/test'
import { fork } from 'node:child_process'
import { once } from 'node:events'
const child = fork('out/main/start-alone.js', { env: { ...process.env, STANDWELL_HOME: '/tmp/bh/large', STANDWELL_PORT: '' }, stdio: ['ignore','ignore','inherit','ipc'] })
const [{ address }] = await once(child, 'message')
const b = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox','--disable-gpu'] })
const p = await b.newPage({ viewport: { width: 1366, height: 768 } })
await p.goto(address); await p.waitForTimeout(1500)
await p.evaluate(()=>location.hash='file'); await p.waitForTimeout(1500)
for (const st of ['plan']) { for (let i=0;i<2;i++){
const t0=Date.now(); const log=[]; const h=async r=>{ if(r.url().includes('/call/')) log.push(r.url().split('/').pop()+' '+Math.round(r.timing().responseEnd)) }
p.on('requestfinished',h)
await p.evaluate((s)=>location.hash=s, st); await p.waitForTimeout(800); p.off('requestfinished',h); console.log(st, log.join(', ')); await p.evaluate(()=>location.hash='file'); await p.waitForTimeout(600)}}
await p.evaluate(()=>location.hash='plan'); await p.waitForTimeout(500); await p.screenshot({path:'/tmp/pl.png'})
await b.close(); child.kill()
