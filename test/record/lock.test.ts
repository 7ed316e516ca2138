/** The lock of a station, as far as one process can see it; two that are killed and paused are in test/faults. */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { abstractName, type Lock, lockStation } from '../../src/record/lock.ts';
import { refusalIn, restoreSystemAfterEach } from './refused.ts';
import { tempFolder } from './store-kit.ts';

/** Watches what is opened, by whomever, or stands in for it. */
function spyOnOpen() {
  const spy = vi.spyOn(fs, 'openSync');
  syncBuiltinESMExports();
  return spy;
}

/** Stands in for the server of another system, whose name is taken later than it is asked for. */
function laterServer(answer: (server: net.Server) => void) {
  const server = new net.Server();
  const listen = vi.spyOn(server, 'listen').mockImplementation(() => {
    setImmediate(() => answer(server));
    return server;
  });
  const close = vi.spyOn(server, 'close').mockReturnValue(server);
  vi.spyOn(net, 'createServer').mockReturnValue(server);
  syncBuiltinESMExports();
  return { listen, close };
}

restoreSystemAfterEach();

/** The problem that a refused lock names. */
async function refusalOf(lock: Promise<Lock>) {
  return (await refusalIn(lock)).problems[0];
}

function station(): string {
  const folder = path.join(tempFolder(), 'prep');
  fs.mkdirSync(folder);
  return folder;
}

const later = (ms: number) => new Promise(resolve => setTimeout(resolve, ms));

describe.runIf(process.platform === 'linux')('lockStation', () => {
  it('lets one in at a time, and the next when it is given back', async () => {
    const folder = station();
    const first = await lockStation(folder);
    expect(await refusalOf(lockStation(folder, { waitMs: 50 }))).toEqual({
      code: 'record_busy',
      file: folder,
      line: null,
      column: null,
      message: `nothing was recorded: another program has held ${folder} for 0.05 s`,
      remedy:
        'look for a holdfast that was paused or hangs on this computer, end it, and type the command again',
    });
    let second: Lock | null = null;
    const waiting = lockStation(folder, { waitMs: 5000 }).then(lock => {
      second = lock;
      return lock;
    });
    await later(60);
    expect(second).toBeNull();
    first.release();
    (await waiting).release();
    (await lockStation(folder, { waitMs: 0 })).release();
  });

  it('says which folder it holds, and goes by the folder, not by its path', async () => {
    const folder = station();
    const { dev, ino } = fs.statSync(folder, { bigint: true });
    const lock = await lockStation(folder);
    expect(lock.folder).toEqual({ dev, ino });
    const same = path.join(folder, '..', 'prep');
    expect(await refusalOf(lockStation(same, { waitMs: 0 }))).toMatchObject({ code: 'record_busy' });
    const other = await lockStation(station(), { waitMs: 0 });
    other.release();
    lock.release();
  });

  it('keeps no process from ending', async () => {
    const pipes = () => process.getActiveResourcesInfo().filter(name => name.startsWith('Pipe')).length;
    // Those of the tests before are closed by now.
    await later(20);
    const before = pipes();
    const lock = await lockStation(station());
    expect(pipes()).toBe(before + 1);
    lock.release();
    await later(10);
    expect(pipes()).toBe(before);
  });

  it('refuses what is no folder, and leaves what is not there to the caller', async () => {
    const folder = station();
    const file = path.join(folder, 'file');
    fs.writeFileSync(file, '');
    expect(await refusalOf(lockStation(file))).toMatchObject({ code: 'record_not_folder', file });
    await expect(lockStation(path.join(folder, 'nothing'))).rejects.toMatchObject({ code: 'ENOENT' });
  });

  it('sends whoever calls at it away, or a visitor would keep the process from ending', async () => {
    const folder = station();
    const lock = await lockStation(folder);
    const visitor = net.connect({ path: abstractName(fs.statSync(folder, { bigint: true })) });
    const isSentAway = new Promise(resolve => visitor.once('close', () => resolve(true)));
    expect(await Promise.race([isSentAway, later(5000)])).toBe(true);
    lock.release();
  });

  it('is the same on an android as on any linux', async () => {
    const folder = station();
    const lock = await lockStation(folder, { platform: 'android' });
    expect(await refusalOf(lockStation(folder, { waitMs: 0 }))).toMatchObject({ code: 'record_busy' });
    lock.release();
    (await lockStation(folder, { platform: 'android', waitMs: 0 })).release();
  });

  it('looks again after 3 to 20 ms', async () => {
    const folder = station();
    const pauses: (number | undefined)[] = [];
    for (const drawn of [0, 0.5, 1]) {
      vi.spyOn(Math, 'random').mockReturnValue(drawn);
      const timer = vi.spyOn(globalThis, 'setTimeout');
      const lock = await lockStation(folder);
      // The first look is part of the call, and the lock is taken then.
      const waiting = lockStation(folder, { waitMs: 5000 });
      lock.release();
      (await waiting).release();
      pauses.push(timer.mock.calls[0]?.[1]);
      vi.restoreAllMocks();
    }
    expect(pauses).toEqual([3, 11.5, 20]);
  });

  describe('of a system that says later whether a name is taken', () => {
    it('listens, on win32, at a pipe that is named after the folder, and has it when the system says so', async () => {
      const folder = station();
      const { dev, ino } = fs.statSync(folder, { bigint: true });
      const { listen, close } = laterServer(server => server.emit('listening'));
      const lock = await lockStation(folder, { platform: 'win32' });
      const pipe = { path: `\\\\.\\pipe\\holdfast-${dev}-${ino}`, exclusive: true };
      expect(listen).toHaveBeenCalledExactlyOnceWith(pipe);
      expect(close).not.toHaveBeenCalled();
      lock.release();
      expect(close).toHaveBeenCalledOnce();
    });

    it.each([
      ['win32', 'EADDRINUSE', 'record_busy'],
      ['win32', 'EACCES', 'record_busy'],
      ['win32', 'EPERM', 'record_lock_unavailable'],
      ['linux', 'EADDRINUSE', 'record_busy'],
      ['linux', 'EACCES', 'record_lock_unavailable'],
    ] as const)('on %s, %s is %s', async (platform, code, refused) => {
      const folder = station();
      vi.spyOn(os, 'platform').mockReturnValue(platform);
      laterServer(server => server.emit('error', Object.assign(new Error(code), { code })));
      expect(await refusalOf(lockStation(folder, { waitMs: 0 }))).toMatchObject({ code: refused });
    });
  });

  describe.each(['darwin', 'freebsd', 'openbsd', 'netbsd'] as const)('on %s', platform => {
    it('opens the folder itself, and closes it again', async () => {
      const folder = station();
      const open = spyOnOpen();
      // Here the flag means nothing, and the folder is simply opened.
      const lock = await lockStation(folder, { platform });
      const { O_RDONLY, O_NONBLOCK } = fs.constants;
      expect(open).toHaveBeenCalledExactlyOnceWith(folder, O_RDONLY | O_NONBLOCK | 0x20);
      expect(lock.folder.ino).toBe(fs.statSync(folder, { bigint: true }).ino);
      lock.release();
      // It is closed, so it cannot be closed once more.
      expect(() => lock.release()).toThrow(/EBADF/);
    });

    it.each(['EAGAIN', 'EWOULDBLOCK'])('waits while another has it (%s)', async code => {
      const folder = station();
      const open = spyOnOpen();
      open.mockImplementationOnce(() => {
        throw Object.assign(new Error(code), { code });
      });
      (await lockStation(folder, { platform, waitMs: 5000 })).release();
      open.mockImplementation(() => {
        throw Object.assign(new Error(code), { code });
      });
      expect(await refusalOf(lockStation(folder, { platform, waitMs: 0 }))).toMatchObject({
        code: 'record_busy',
      });
    });

    it('writes nothing where the folder gives no lock', async () => {
      spyOnOpen().mockImplementationOnce(() => {
        throw Object.assign(new Error('ENOTSUP'), { code: 'ENOTSUP' });
      });
      expect(await refusalOf(lockStation(station(), { platform }))).toMatchObject({
        code: 'record_lock_unavailable',
        message: 'nothing was recorded: this system gives no lock that keeps two writers apart (ENOTSUP)',
        remedy:
          'write from a computer with Linux, macOS, a BSD or Windows, outside a sandbox that forbids local sockets',
      });
    });
  });

  it('writes nothing on a system of which it knows no lock', async () => {
    const folder = station();
    expect(await refusalOf(lockStation(folder, { platform: 'sunos' }))).toMatchObject({
      code: 'record_lock_unavailable',
      file: folder,
      message: 'nothing was recorded: this system gives no lock that keeps two writers apart (sunos)',
    });
  });
});

describe('abstractName', () => {
  it('fills the whole address, so that no shorter name of another program is part of it', () => {
    const name = abstractName({ dev: 65_024n, ino: 2_547_838n });
    expect(name).toMatch(/^\0holdfast\/65024\/2547838\/\.+$/);
    expect(name).toHaveLength(108);
    expect(abstractName({ dev: 1n, ino: 23n })).not.toBe(abstractName({ dev: 12n, ino: 3n }));
  });
});
