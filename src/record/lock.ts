/**
 * One writer at a time on a station. The lock is something that the kernel takes back when its holder dies, however it
 * dies, and that a paused holder keeps: no file is left behind, and none is ever judged by its age.
 *
 *   Linux        a listening abstract socket (AF_UNIX, no file, one per network namespace)
 *   Windows      a listening named pipe
 *   macOS, BSD   the station's folder opened with O_EXLOCK
 */
import { closeSync, constants, openSync, statSync } from 'node:fs';
import { createServer } from 'node:net';
import { platform } from 'node:os';
import { codeOf, type FolderIdentity, notFolder, storeRefusal } from './folder.ts';

/** How long a writer waits for the one before it. */
const WAIT_MS = 10_000;

const RETRY_LEAST_MS = 3;
const RETRY_MOST_MS = 20;

/** An abstract name fills sun_path to its end: Node 20 pads a shorter one with NULs, Node 22 does not, and both would get in. */
const ABSTRACT_NAME_BYTES = 107;

// In <fcntl.h> of macOS and every BSD; Node names it nowhere.
const O_EXLOCK = 0x20;

export interface Lock {
  /** The folder that is locked. Its path may lead elsewhere by now: `ensureInPlace` looks before anything is written. */
  readonly folder: FolderIdentity;
  release(): void;
}

export interface LockOptions {
  /** Default 10 s. */
  readonly waitMs?: number | undefined;
  /** Default this one. */
  readonly platform?: NodeJS.Platform | undefined;
}

/**
 * Waits until no other writer holds the station, then holds it.
 *
 * @param folder - the station's folder; it must exist. The lock goes by its device and inode, whatever its path is.
 * @throws Refusal (exit 3) `record_busy` after the wait, `record_lock_unavailable` where the system gives no lock,
 *   `record_not_folder`; the system's error where nothing is there.
 */
export async function lockStation(folder: string, options: LockOptions = {}): Promise<Lock> {
  const system = options.platform ?? platform();
  const waitMs = options.waitMs ?? WAIT_MS;
  const deadline = performance.now() + waitMs;
  for (;;) {
    const found = statSync(folder, { bigint: true });
    if (!found.isDirectory()) throw notFolder(folder);
    const release = await tryLock(folder, found, system);
    if (release !== null) return { folder: { dev: found.dev, ino: found.ino }, release };
    if (performance.now() >= deadline) {
      throw storeRefusal(
        'record_busy',
        folder,
        `nothing was recorded: another program has held ${folder} for ${waitMs / 1000} s`,
        'look for a holdfast that was paused or hangs on this computer, end it, and type the command again',
      );
    }
    await pause();
  }
}

type Release = () => void;

/** What gives the lock back, or null where another holds it. */
function tryLock(
  folder: string,
  identity: FolderIdentity,
  system: NodeJS.Platform,
): Release | null | Promise<Release | null> {
  switch (system) {
    case 'linux':
    case 'android':
      return listen(abstractName(identity), folder);
    case 'win32':
      return listen(`\\\\.\\pipe\\holdfast-${identity.dev}-${identity.ino}`, folder);
    case 'darwin':
    case 'freebsd':
    case 'openbsd':
    case 'netbsd':
      return openExclusively(folder);
    default:
      throw unavailable(folder, system);
  }
}

/**
 * The name of the abstract socket, with its leading NUL.
 *
 * @example abstractName(statSync('record/prep', { bigint: true })).length //=> 108
 */
export function abstractName({ dev, ino }: FolderIdentity): string {
  return `\0${`holdfast/${dev}/${ino}/`.padEnd(ABSTRACT_NAME_BYTES, '.')}`;
}

function listen(name: string, folder: string): Release | Promise<Release | null> {
  const server = createServer(visitor => visitor.destroy());
  const release = () => void server.close();
  server.listen({ path: name, exclusive: true });
  // The call itself takes the name; only the event comes later.
  if (server.listening) return release;
  return new Promise((resolve, reject) => {
    server.once('error', error => {
      const code = codeOf(error);
      // Windows says EACCES for a pipe that another has.
      if (code === 'EADDRINUSE' || (code === 'EACCES' && platform() === 'win32')) resolve(null);
      else reject(unavailable(folder, code));
    });
    server.once('listening', () => resolve(release));
  });
}

function openExclusively(folder: string): Release | null {
  try {
    const fd = openSync(folder, constants.O_RDONLY | constants.O_NONBLOCK | O_EXLOCK);
    return () => closeSync(fd);
  } catch (error) {
    if (codeOf(error) === 'EAGAIN' || codeOf(error) === 'EWOULDBLOCK') return null;
    throw unavailable(folder, codeOf(error));
  }
}

/** A random while, so that several waiting writers do not keep meeting. */
function pause(): Promise<void> {
  const ms = RETRY_LEAST_MS + Math.random() * (RETRY_MOST_MS - RETRY_LEAST_MS);
  return new Promise(resolve => setTimeout(resolve, ms));
}

function unavailable(folder: string, what: string) {
  return storeRefusal(
    'record_lock_unavailable',
    folder,
    `nothing was recorded: this system gives no lock that keeps two writers apart (${what})`,
    'write from a computer with Linux, macOS, a BSD or Windows, outside a sandbox that forbids local sockets',
  );
}
