import { spawn, execSync } from 'node:child_process'
import { mkdtempSync, readFileSync, writeFileSync, cpSync, mkdirSync } from 'node:fs'
mkdirSync('/tmp/pb',{recursive:true}); cpSync('tests/speed/app-probe.mjs','/tmp/pb/main.js'); writeFileSync('/tmp/pb/package.json','{"name":"standwell","version":"0.1.0","type":"module","main":"main.js"}')
const h = mkdtempSync('/tmp/hq-'), hb = mkdtempSync('/tmp/hb-')
const E = { ...process.env,LOGF:'/tmp/q.log',STANDWELL_BENCH_PROJECT:process.cwd(),STANDWELL_NODE:process.cwd()+'/node_modules/node/bin/node' }
const X = process.env.HOME+'/.cache/standwell-electron/dist/electron'
async function one(dir, env, i, name) { writeFileSync('/tmp/q.log',''); const t=Date.now()
 const c = spawn(X,[dir,'--no-sandbox','--disable-gpu'],{env:{...E,...env},stdio:['pipe','pipe','ignore']})
 let out=''; let said=0
 c.stdout.on('data',d=>{ out+=d; if(!said && out.includes('painted')) { said=Date.now()-t; c.stdin.write('{}') }})
 const over = new Promise(r=>c.once('exit',()=>r('exit')))
 const r = await Promise.race([over,new Promise(r=>setTimeout(()=>r('HANG'),9000))])
 if (r==='HANG' || Date.now()-t>2500) { console.log(i,name,r,'painted at',said,Date.now()-t,out.trim(),readFileSync('/tmp/q.log','utf8')); if(r==='HANG'){ try{console.log(execSync(`ps -o pid,ppid,stat,args --ppid ${c.pid} | cut -c1-150`).toString())}catch{}; c.kill('SIGKILL'); await over } } }
for (let i=0;i<25;i++){ await one('/tmp/pb',{STANDWELL_BENCH_BARE:'1',STANDWELL_HOME:hb},i,'bare'); await one('/tmp/pq',{STANDWELL_HOME:h},i,'first') }
console.log('done')
