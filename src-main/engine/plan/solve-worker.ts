/** The thread in which models are run, since a solve blocks its thread. */
import { parentPort } from 'node:worker_threads'
import { runModel, type SolveRequest } from './run-model.ts'

parentPort?.on('message', (request: SolveRequest) => {
  void runModel(request, (message) => parentPort?.postMessage(message))
})
