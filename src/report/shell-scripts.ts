/**
 * The scripts that teach a shell to complete holdfast. Each asks the program itself, so that ids come from the inventory in
 * reach and nothing has to be kept in step.
 */

export type Shell = 'bash' | 'zsh' | 'fish';

export const SHELLS: readonly Shell[] = ['bash', 'zsh', 'fish'];

/** Two words of the answer stand for what the shell completes by itself. */
export const FILES_MARK = ':files';
export const FOLDERS_MARK = ':folders';

export function completionScript(shell: Shell): string {
  return SCRIPTS[shell];
}

const BASH = `# holdfast completion for bash. To use it: eval "$(holdfast completion bash)"
_holdfast() {
  local line answer word
  word=\${COMP_WORDS[COMP_CWORD]}
  COMPREPLY=()
  answer=$(holdfast completion words -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null) || return
  case "$answer" in
    ${FILES_MARK}) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
    ${FOLDERS_MARK}) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -d -- "$word"); return ;;
  esac
  while IFS=$'\\t' read -r line _; do
    [ -n "$line" ] && COMPREPLY+=("$line")
  done <<< "$answer"
}
complete -F _holdfast holdfast
`;

const ZSH = `#compdef holdfast
# holdfast completion for zsh. To use it: eval "$(holdfast completion zsh)", after compinit
_holdfast() {
  local answer line
  local -a candidates
  answer=$(holdfast completion words -- "\${(@)words[2,CURRENT]}" 2>/dev/null) || return 1
  case "$answer" in
    ${FILES_MARK}) _files; return ;;
    ${FOLDERS_MARK}) _files -/; return ;;
  esac
  for line in "\${(@f)answer}"; do
    [[ -n "$line" ]] && candidates+=("\${\${line%%$'\\t'*}//:/\\\\:}:\${line#*$'\\t'}")
  done
  _describe 'holdfast' candidates
}
compdef _holdfast holdfast
`;

const FISH = `# holdfast completion for fish. To use it: holdfast completion fish | source
function __holdfast_complete
    set -l words (commandline -opc) (commandline -ct)
    set -l answer (holdfast completion words -- $words[2..-1] 2>/dev/null)
    switch "$answer"
        case '${FILES_MARK}'
            __fish_complete_path (commandline -ct)
        case '${FOLDERS_MARK}'
            __fish_complete_directories (commandline -ct)
        case '*'
            printf '%s\\n' $answer
    end
end
complete -c holdfast -f -a '(__holdfast_complete)'
`;

const SCRIPTS: Readonly<Record<Shell, string>> = { bash: BASH, zsh: ZSH, fish: FISH };
