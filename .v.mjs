import { spawn } from 'node:child_process'
import { readFileSync, readdirSync, cpSync, rmSync, mkdirSync } from 'node:fs'
rm: { rmSync('/tmp/hv',{recursive:true,force:true}); cpSync('/tmp/bh/demo','/tmp/hv',{recursive:true}); rmSync('/tmp/hv/window',{recursive:true,force:true}) }
import { writeFileSync } from 'node:fs'; writeFileSync('/tmp/hv/recent.json', readFileSync('/tmp/hv/recent.json','utf8').replaceAll('/tmp/bh/demo','/tmp/hv'))
mkdirSync('/tmp/pv',{recursive:true}); cpSync('tests/speed/app-probe.mjs','/tmp/pv/main.js'); writeFileSync('/tmp/pv/package.json','{"name":"standwell","version":"0.1.0","type":"module","main":"main.js"}')
const c = spawn(process.env.HOME+'/.cache/standwell-electron/dist/electron',['/tmp/pv','--no-sandbox','--disable-gpu'],{env:{...process.env,STANDWELL_BENCH_PROJECT:process.cwd(),STANDWELL_NODE:process.cwd()+'/node_modules/node/bin/node',STANDWELL_HOME:'/tmp/hv',STANDWELL_BENCH_AWAITS:'[aria-label="Stages of the year"] ~ main h1'},stdio:['pipe','pipe','ignore']})
let out=''; c.stdout.on('data',d=>out+=d)
const wait=ms=>new Promise(r=>setTimeout(r,ms))
const kids=p=>readdirSync(`/proc/${p}/task`).flatMap(t=>readFileSync(`/proc/${p}/task/${t}/children`,'utf8').split(' ').filter(Boolean).map(Number))
const tab=()=>{const all=[c.pid]; for(const p of all) all.push(...kids(p)); return Object.fromEntries(all.map(p=>{const cmd=readFileSync(`/proc/${p}/cmdline`,'utf8').replace(/\0/g,' '); const k=/--type=(\S+)/.exec(cmd)?.[1]??(cmd.includes('start-in-app')?'engine':'main'); return [k+p, Math.round(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${p}/smaps_rollup`,'utf8'))[1]/1024)]}))}
await wait(12000); console.log('idle',JSON.stringify(tab()))
c.stdin.write(JSON.stringify({script:`window.standwell.call('plan.solve', {}).then((reply) => reply.ok)`})); await wait(15000); console.log('after solve+',JSON.stringify(tab()), out.slice(-100))
await wait(30000); console.log('+30s',JSON.stringify(tab())); c.stdin.write('{}'); setTimeout(()=>process.exit(0),3000)
