/** Builds once before the tests: they run what ships. */
import { execFileSync } from 'node:child_process';

export default function setup(): void {
  execFileSync(process.execPath, ['esbuild.config.mjs'], { stdio: 'inherit' });
}
