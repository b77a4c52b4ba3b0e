import { fork } from 'node:child_process'
const go = async (name, entry, execArgv, env={}) => { const r=[],f=[]; for (let i=0;i<8;i++){ const t=performance.now(); const c=fork(entry,{env:{...process.env,STANDWELL_HOME:'/tmp/bh/demo',...env},serialization:'advanced',execArgv}); await new Promise(r=>c.once('message',r)); r.push(performance.now()-t); c.send({id:1,name:'farm.current',input:{}}); await new Promise(r=>c.on('message',m=>m.id===1&&r())); f.push(performance.now()-t); c.send({close:true}); await new Promise(r=>c.once('exit',r)) } const m=a=>a.sort((x,y)=>x-y)[4].toFixed(0); console.log(name,'ready',m(r),'farm',m(f)) }
await go('maps','out/main/start-in-app.js',['--enable-source-maps'])
await go('no maps','out/main/start-in-app.js',[])
await go('no maps, cache','out/main/start-in-app.js',[],{NODE_COMPILE_CACHE:'/tmp/ncc'})
await go('maps, cache','out/main/start-in-app.js',['--enable-source-maps'],{NODE_COMPILE_CACHE:'/tmp/ncc'})
import { writeFileSync } from 'node:fs'
writeFileSync('/tmp/empty.mjs','process.on("message",()=>process.exit(0));process.send({});')
{ const r=[]; for (let i=0;i<8;i++){const t=performance.now(); const c=fork('/tmp/empty.mjs'); await new Promise(r=>c.once('message',r)); r.push(performance.now()-t); c.send({}); await new Promise(r=>c.once('exit',r))} console.log('empty', r.sort((a,b)=>a-b)[4].toFixed(0)) }
