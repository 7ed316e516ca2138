#!/usr/bin/env node
'use strict';
// The launcher: runs the bundle, with V8's code cache where it was made by this very V8, and without it elsewhere.
const { readFileSync } = require('node:fs');
const path = require('node:path');
const { setFlagsFromString } = require('node:v8');
const { Script } = require('node:vm');

const bundle = path.join(__dirname, '..', 'dist', 'holdfast.cjs');
let cachedData;
try {
  cachedData = readFileSync(path.join(path.dirname(bundle), 'holdfast.cache'));
} catch {
  // No cache: slower by some milliseconds, nothing else.
}
// The bundle is ASCII (the build looks), and read as such it takes half the memory and less time. It is one function.
const script = new Script(readFileSync(bundle, 'latin1'), { filename: bundle, cachedData });
// Most commands are over before optimised code would pay; by default V8 spends a third of a plan on making it. Long ones
// still get it, later. Only on the V8 of the build, which knows the flag.
if (script.cachedDataRejected === false) setFlagsFromString('--interrupt-budget=3000000');
script.runInThisContext()(exports, require, module, bundle, path.dirname(bundle));
