/** What the shipped program asks of the system: no network, no other program. Seen by strace, on Linux. */
import { execFileSync, spawnSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/commands/commands.ts';

const LAUNCHER = path.resolve('bin/holdfast.cjs');
const hasStrace = spawnSync('strace', ['-V']).status === 0;
const TRACED = 'trace=network,execve,execveat,fork,vfork,clone,clone3';

const folder = mkdtempSync(path.join(tmpdir(), 'holdfast-calls-'));

beforeAll(() => {
  copyFileSync('test/record/larkhill.yaml', path.join(folder, 'inventory.yaml'));
  writeFileSync(
    path.join(folder, 'list.csv'),
    'ref,species,weight,start,minutes\nA-1,dog,6.8kg,09:00,45\nA-2,cat,4kg,10:30,30\n',
  );
});
afterAll(() => rmSync(folder, { recursive: true }));

const LINES: readonly (readonly [line: string, least: number, most: number])[] = [
  ['plan 6.8kg --species dog --steps --reasons --card card.html', 0, 1],
  ['hold bain-1 --machine theatre-1 --from 20 --to 20 --seconds 10 --pop-off open --by mk', 0, 0],
  ['sign-off bain-1 inner-tube --by mk', 0, 0],
  ['due --format ics --out due.ics', 0, 1],
  ['record verify', 0, 0],
  ['record export --format csv', 0, 0],
  ['record trend bain-1', 0, 1],
  ['stock', 0, 1],
  ['inventory check', 0, 0],
  ['round opening theatre-1 --list', 0, 2],
  ['hook', 0, 0],
  ['completion bash', 0, 0],
  ['plan nonsense', 2, 2],
];
const LATER: typeof LINES = [
  ['chart --format html --out chart.html', 0, 1],
  ['day list.csv --json', 0, 1],
];
const known = LATER.filter(([line]) => COMMANDS.some(({ name }) => line.startsWith(`${name} `)));

interface Call {
  readonly name: string;
  readonly text: string;
}

function callsOf(line: string): { calls: Call[]; status: number | null; stderr: string } {
  const trace = path.join(folder, 'trace');
  const { NODE_EXTRA_CA_CERTS: _, NODE_OPTIONS: __, ...env } = process.env;
  const { status, stderr } = spawnSync(
    'strace',
    [
      '-f',
      '-qq',
      '-e',
      TRACED,
      '-e',
      'signal=none',
      '-o',
      trace,
      process.execPath,
      LAUNCHER,
      ...line.split(' '),
    ],
    {
      cwd: folder,
      encoding: 'utf8',
      env: { ...env, XDG_STATE_HOME: path.join(folder, 'state'), HOLDFAST_STATION: 'prep' },
    },
  );
  const calls = readFileSync(trace, 'utf8')
    .split('\n')
    .flatMap(text => {
      const name = /^\d+ +(\w+)\(/.exec(text)?.[1];
      return name === undefined ? [] : [{ name, text }];
    });
  return { calls, status, stderr };
}

describe.skipIf(!hasStrace)('the program', () => {
  it.each([...LINES, ...known])('%s: no network and no other program', (line, least, most) => {
    const { calls, status, stderr } = callsOf(line);
    expect(status, stderr).toBeGreaterThanOrEqual(least);
    expect(status, stderr).toBeLessThanOrEqual(most);
    // The very first is strace starting node.
    expect(calls[0]?.name).toBe('execve');
    const started = calls.slice(1).filter(({ name }) => /^(execve|execveat|fork|vfork)$/.test(name));
    // Node's own threads are no other program.
    const forked = calls.filter(({ name, text }) => /^clone/.test(name) && !text.includes('CLONE_THREAD'));
    const sockets = calls.filter(({ text }) => /AF_(?!UNIX\b|LOCAL\b)\w+/.test(text));
    expect([...started, ...forked, ...sockets].map(({ text }) => text)).toEqual([]);
  });

  it('locks by a local socket without a file, and speaks to nobody by it', () => {
    const { calls } = callsOf('sign-off bain-1 inner-tube --by mk');
    const network = calls.filter(({ name }) =>
      /^(socket|connect|bind|listen|accept4?|send\w*|recv\w*)$/.test(name),
    );
    expect(network.map(({ name }) => name)).toEqual(['socket', 'bind', 'listen']);
    expect(network[1]?.text).toMatch(/sun_path=@"holdfast\//);
  });

  it('opens no socket at all where it only reads', () => {
    for (const line of ['plan 6.8kg', 'due', 'record verify']) {
      const { calls } = callsOf(line);
      expect(calls.filter(({ name }) => /socket|connect|bind/.test(name))).toEqual([]);
    }
  });

  it('sees the calls it looks for where a program makes them', () => {
    const script = path.join(folder, 'talks.cjs');
    writeFileSync(
      script,
      "require('node:child_process').spawnSync('true'); require('node:net').connect(9, '127.0.0.1').on('error', () => {});",
    );
    const trace = path.join(folder, 'trace');
    execFileSync('strace', ['-f', '-qq', '-e', TRACED, '-o', trace, process.execPath, script]);
    const text = readFileSync(trace, 'utf8');
    expect(text).toMatch(/AF_INET/);
    expect(text.match(/execve\(/g)?.length).toBeGreaterThan(1);
  });
});

describe('what ships', () => {
  it('carries nothing that could start a program or call into a network', () => {
    const bundle = readFileSync('dist/holdfast.cjs', 'latin1');
    const modules = new Set([...bundle.matchAll(/require\("(?:node:)?([\w/]+)"\)/g)].map(([, name]) => name));
    expect(
      [...modules].filter(name =>
        /^(child_process|cluster|dgram|dns|http|https|http2|inspector|tls|worker_threads)/.test(name ?? ''),
      ),
    ).toEqual([]);
  });

  it('has no dependencies and no script that an installation runs', () => {
    const manifest = JSON.parse(readFileSync('package.json', 'utf8')) as Record<
      string,
      Record<string, string>
    >;
    expect(manifest.dependencies ?? {}).toEqual({});
    expect(manifest.optionalDependencies ?? {}).toEqual({});
    expect(manifest.peerDependencies ?? {}).toEqual({});
    expect(Object.keys(manifest.scripts ?? {}).filter(name => /install/.test(name))).toEqual([]);
  });
});
