import { chromium } from '@playwright/test'
import { fork } from 'node:child_process'
import { once } from 'node:events'
const child = fork('out/main/start-alone.js', { env: { ...process.env, STANDWELL_HOME: '/tmp/bh/large', STANDWELL_PORT: '' }, stdio: ['ignore','ignore','inherit','ipc'] })
const [{ address }] = await once(child, 'message')
const b = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox','--disable-gpu'] })
const p = await b.newPage({ viewport: { width: 1366, height: 768 } })
await p.goto(address); await p.waitForTimeout(1500)
await p.evaluate(()=>location.hash='file'); await p.waitForTimeout(1500)
const s = await p.context().newCDPSession(p)
await s.send('Profiler.enable'); await s.send('Profiler.setSamplingInterval',{interval:200})
for (const st of ['plan','fields']) {
await p.evaluate((st)=>location.hash=st, st); await p.waitForTimeout(800); await p.evaluate(()=>location.hash='file'); await p.waitForTimeout(600)
await s.send('Profiler.start')
for (let i=0;i<5;i++){ await p.evaluate((st)=>location.hash=st, st); await p.waitForTimeout(700);await p.evaluate(()=>location.hash='file'); await p.waitForTimeout(400)}
const { profile } = await s.send('Profiler.stop')
const self = {}, dt=profile.timeDeltas, byId=new Map(profile.nodes.map(n=>[n.id,n])); const parent=new Map(); for(const n of profile.nodes) for(const c of n.children??[]) parent.set(c,n.id)
const incl={}
profile.samples.forEach((id,i)=>{const n=byId.get(id); const key=n=>n.callFrame.functionName+' '+n.callFrame.url.split('/').pop()+':'+n.callFrame.lineNumber+':'+n.callFrame.columnNumber; self[key(n)]=(self[key(n)]||0)+dt[i]; const seen=new Set(); for(let x=id;x!==undefined;x=parent.get(x)){const k=key(byId.get(x)); if(!seen.has(k)){seen.add(k); incl[k]=(incl[k]||0)+dt[i]}}})
const top=(o,n)=>Object.entries(o).sort((a,b)=>b[1]-a[1]).slice(0,n).map(([k,v])=>(v/5000).toFixed(1)+' ms '+k).join('\n')
console.log(st); console.log(top(self,8)); console.log('--'); console.log(top(incl,30)) }
await b.close(); child.kill()
