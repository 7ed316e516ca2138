/** Property tests under mutation: the same inputs in every run, so that a mutant's fate is no luck, and no more than a short while. */
import fc from 'fast-check';

fc.configureGlobal({
  seed: 20261125,
  interruptAfterTimeLimit: Number(process.env.MUTATION_PROPERTY_MS ?? 300),
  markInterruptAsFailure: false,
});
