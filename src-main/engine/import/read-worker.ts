/**
 * The thread in which strangers' files are read. A file that takes too long or too much memory ends this thread and nothing else;
 * `file-reader.ts` holds it to its limits.
 */
import { parentPort } from 'node:worker_threads'
import { readRequested, type ReadRequest } from './read-request.ts'

parentPort?.on('message', ({ id, request }: { id: number; request: ReadRequest }) => {
  void readRequested(request).then((result) => parentPort?.postMessage({ id, result }))
})
