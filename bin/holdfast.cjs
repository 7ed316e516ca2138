#!/usr/bin/env node
'use strict';
// The launcher: runs the bundle, with V8's code cache where it was made by this very V8, and without it elsewhere.
const { readFileSync } = require('node:fs');
const { wrap } = require('node:module');
const path = require('node:path');
const { Script } = require('node:vm');

const bundle = path.join(__dirname, '..', 'dist', 'holdfast.cjs');
let cachedData;
try {
  cachedData = readFileSync(path.join(path.dirname(bundle), 'holdfast.cache'));
} catch {
  // No cache: slower by some milliseconds, nothing else.
}
// The bundle is ASCII (the build looks), and read as such it takes half the memory and less time.
const script = new Script(wrap(readFileSync(bundle, 'latin1')), { filename: bundle, cachedData });
script.runInThisContext()(exports, require, module, bundle, path.dirname(bundle));
