/** Numbers that look random and are the same at every run. */
export function numbers(seed: number): (below: number) => number {
  let state = seed;
  return below => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fff_ffff;
    return Math.floor((state / 0x8000_0000) * below);
  };
}
