import { chromium } from '@playwright/test'
import { fork } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
const child = fork('out/main/start-alone.js', { env: { ...process.env, STANDWELL_HOME: '/tmp/bh/large', STANDWELL_PORT: '' }, stdio: ['ignore','ignore','inherit','ipc'] })
const [{ address }] = await once(child, 'message')
const b = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox','--disable-gpu'] })
const p = await b.newPage({ viewport: { width: 1366, height: 768 } })
await p.goto(address)
await p.waitForTimeout(1500)
const src = readFileSync('tests/speed/app.bench.ts','utf8')
const edits = /const edits = `([\s\S]*?)`\n/.exec(src)[1]
await p.evaluate(edits)
const s = await p.context().newCDPSession(p)
await s.send('Profiler.enable'); await s.send('Profiler.setSamplingInterval',{interval:200}); await s.send('Profiler.start')
const t = await p.evaluate(edits); console.log(JSON.stringify(t.map(Math.round)))
const { profile } = await s.send('Profiler.stop')
const self = {}, dt=profile.timeDeltas, byId=new Map(profile.nodes.map(n=>[n.id,n])); const parent=new Map(); for(const n of profile.nodes) for(const c of n.children??[]) parent.set(c,n.id)
const incl={}
profile.samples.forEach((id,i)=>{const n=byId.get(id); const key=n=>n.callFrame.functionName+' '+n.callFrame.url.split('/').pop()+':'+n.callFrame.lineNumber+':'+n.callFrame.columnNumber; self[key(n)]=(self[key(n)]||0)+dt[i]; const seen=new Set(); for(let x=id;x!==undefined;x=parent.get(x)){const k=key(byId.get(x)); if(!seen.has(k)){seen.add(k); incl[k]=(incl[k]||0)+dt[i]}}})
const top=(o,n)=>Object.entries(o).sort((a,b)=>b[1]-a[1]).slice(0,n).map(([k,v])=>(v/40000).toFixed(2)+' ms/edit '+k).join('\n')
console.log(top(self,14)); console.log('--'); console.log(top(incl,40))
await b.close(); child.kill()
