/**
 * A loop that never ends cannot be stopped by a timer of its own thread. Another thread watches, says which input it was,
 * and ends the process.
 */
import { Worker } from 'node:worker_threads';

/** Far beyond what is allowed, since a busy machine alone may stop everything for seconds. */
const GIVE_UP_MS = 30_000;

const beat = new Int32Array(new SharedArrayBuffer(8));

const watcher = new Worker(
  `const { workerData: { beat, giveUpMs }, parentPort } = require('node:worker_threads');
   let seen = -1, since = Date.now(), input = '';
   parentPort.on('message', text => { input = text; });
   setInterval(() => {
     if (beat[1] === 0 || beat[0] !== seen) { seen = beat[0]; since = Date.now(); return; }
     if (Date.now() - since < giveUpMs) return;
     require('node:fs').writeSync(2, 'hangs: ' + input + '\\n');
     process.kill(process.pid, 'SIGKILL');
   }, 500);`,
  { eval: true, workerData: { beat, giveUpMs: GIVE_UP_MS } },
);
watcher.unref();

/** Runs one input under the eye of the other thread. @param input - printed where it hangs */
export async function inTime<T>(input: string, work: () => Promise<T>): Promise<T> {
  watcher.postMessage(input);
  beat[0] = (beat[0] ?? 0) + 1;
  beat[1] = 1;
  try {
    return await work();
  } finally {
    beat[1] = 0;
  }
}
