/** The hook that keeps a broken inventory or a damaged record out of git. */
export const HOOK_SCRIPT = `#!/bin/sh
# Checks what is about to be committed, not what lies in the folder. To use it:
#   holdfast hook > .git/hooks/pre-commit && chmod +x .git/hooks/pre-commit
set -u
staged=$(git diff --cached --name-only --diff-filter=ACMR)
case "$staged" in
  *inventory.yaml*|*.jsonl*) ;;
  *) exit 0 ;;
esac
copy=$(mktemp -d) || exit 1
trap 'rm -rf "$copy"' EXIT
git checkout-index --all --prefix="$copy/" || exit 1
status=0
for inventory in $(git ls-files -- 'inventory.yaml' '*/inventory.yaml'); do
  (cd "$copy" && holdfast inventory check "$inventory") || status=1
  record=$(dirname "$inventory")/record
  if [ -d "$copy/$record" ]; then
    (cd "$copy" && holdfast record verify --inventory "$inventory" --record "$record") || status=1
  fi
done
[ "$status" -eq 0 ] || echo 'holdfast: not committed; mend what stands above first' >&2
exit "$status"
`;
