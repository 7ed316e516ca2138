#!/usr/bin/env node
'use strict';
// The launcher: runs the bundle, with V8's code cache where it was made by this very V8, and without it elsewhere.
const { readFileSync } = require('node:fs');
const path = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

const HASH_LENGTH = 64;
const bundle = path.join(__dirname, '..', 'dist', 'holdfast.cjs');
// The bundle is ASCII (the build looks), and read as such it takes half the memory and less time. It is one function.
const source = readFileSync(bundle, 'latin1');
const script = new Script(source, { filename: bundle, cachedData: codeCache() });
// Most commands are over before optimised code would pay; by default V8 spends a third of a plan on making it. Those that
// may read a million lines keep V8's own way. Only on the V8 of Node 20: later ones know no such flag, and say so on stderr.
const isLong = ['due', 'record'].includes(process.argv[2]);
if (!isLong && process.versions.v8.startsWith('11.') && script.cachedDataRejected === false)
  setFlagsFromString('--interrupt-budget=3000000');
script.runInThisContext()(exports, require, module, bundle, path.dirname(bundle));

/** The cache, if it is of this very bundle: V8 itself compares no more than the length of the text. */
function codeCache() {
  try {
    const cache = readFileSync(path.join(path.dirname(bundle), 'holdfast.cache'));
    const isOfBundle = cache.latin1Slice(0, HASH_LENGTH) === source.slice(-HASH_LENGTH);
    return isOfBundle ? cache.subarray(HASH_LENGTH) : undefined;
  } catch {
    // No cache: slower by some milliseconds, nothing else.
    return undefined;
  }
}
