import type { CodeRow } from '../code.ts';

/** Problems of the record's files: what keeps them from being written or read, and what verify finds in them. */
export const RECORD_STORE_CODES = {
  // Names and times: refused, nothing written.
  station_name: {
    means: 'A station is the workplace that writes, and its name is the name of a folder.',
    remedy: 'Set HOLDFAST_STATION to a-z, 0-9 and -, at most 40 long, for example front-desk.',
  },
  entry_id_not_valid: {
    means: 'The id given with --id is none that an entry can have.',
    remedy: 'Take the id that the failed command printed.',
  },
  entry_id_taken: {
    means: 'The record already has an entry with this id, and it says something else.',
    remedy: 'Leave --id out. It is only for typing the very same command again after a failure.',
  },
  entry_not_valid: {
    means: 'The entry does not fit the format of the record.',
    remedy: 'Mend what the message names.',
  },
  // Where the record lies.
  record_missing: {
    means:
      'There is no record in the folder that was named, so that what is withdrawn or failed would not be known.',
    remedy:
      'Check the name and whether the disk is there: --record DIR or HOLDFAST_RECORD. Where there is none yet, the first entry starts it.',
  },
  record_not_folder: {
    means: 'The record, or a station in it, is a file where a folder is needed.',
    remedy: 'Move the file away, or name another folder with --record.',
  },
  record_symlink: {
    means:
      'The record, a station or a file in it is a symbolic link, so that entries could end up elsewhere unseen.',
    remedy: 'Name the real folder with --record, and put a real file in place of the link.',
  },
  record_not_file: {
    means:
      'Something stands in place of a file of the record that is no regular file: a folder, a pipe, a device.',
    remedy: 'Move it away.',
  },
  record_read_only: {
    means: 'The record may not be written by this user, or lies on a disk that is read-only.',
    remedy: 'Run it as the user who owns the record, or correct the permissions.',
  },
  record_not_readable: {
    means: 'A file of the record is there but cannot be read.',
    remedy: 'Check its permissions and the disk.',
  },
  record_world_writable: {
    means: 'Every user of this computer may change the record.',
    remedy: 'Take the right to write from others: chmod o-w.',
  },
  // Writing.
  record_busy: {
    means: 'Another program held this station for longer than a writer waits, and nothing was written.',
    remedy:
      'Look for a holdfast that was paused or hangs on this computer, end it, and type the command again.',
  },
  record_lock_unavailable: {
    means: 'This system does not give the lock that keeps two writers apart, and nothing was written.',
    remedy:
      'Write from a computer with Linux, macOS, a BSD or Windows, outside a sandbox that forbids local sockets.',
  },
  record_disk_full: {
    means: 'The disk, the quota or the largest size of a file was reached, and the entry was not recorded.',
    remedy: 'Make room, then type the command again.',
  },
  record_not_written: {
    means: 'The system refused to write, and the entry was not recorded.',
    remedy: 'Check the disk, then type the command again.',
  },
  record_write_unsure: {
    means: 'The system failed in a way that leaves open whether the entry was recorded.',
    remedy: 'Type the command again with the --id that the message names: it is recognised if it is there.',
  },
  record_disturbed: {
    means: 'Another program wrote to the file of the record at the same moment, past the lock.',
    remedy: 'Run holdfast record verify, and keep editors and other programs away from the record.',
  },
  last_line_damaged: {
    means: 'The last line of the station was changed, so that nothing can be chained to it.',
    remedy: 'Run holdfast record verify, copy the file aside, and restore it from git or a backup.',
  },
  // Written, with a caution on stderr.
  torn_tail_set_aside: {
    means:
      'An earlier writer was cut off in the middle of a line. The piece was set aside in a file of its own.',
    remedy:
      'Nothing to do for the record. Look into the file: if its command did not report success, enter it anew.',
  },
  newline_restored: {
    means: 'The newline behind the last entry had gone; the entry itself is the one last written here.',
    remedy: 'Find the program that changed the file, and keep it away from the record.',
  },
  last_head_missing: {
    means: 'The entry that this computer saw last is no longer in the record.',
    remedy: 'Run holdfast record verify, and restore the missing lines from git or a backup.',
  },
  last_entry_in_future: {
    means:
      'The last entry of this station was made by a clock that was ahead. What is entered now cannot be entered before it.',
    remedy:
      'Set the clock of the station right. Cancel what bears a wrong time with holdfast correct ENTRY, and enter it anew.',
  },
  head_not_kept: {
    means:
      'The head of the record could not be remembered outside it, so that a cut tail would go unnoticed.',
    remedy: 'Make the folder writable that the message names, or set XDG_STATE_HOME.',
  },
  stray_file: {
    means: 'A file or folder in the record that is none of its own. It is not read.',
    remedy: 'Move it away; if it is a copy made by a file-sharing program, compare it first.',
  },
  // Damage, as verify finds it.
  damage_line_changed: {
    means:
      'A line is not the one that was written: the line after it, or the head last seen, holds another hash.',
    remedy:
      'Copy the file aside first, then restore it from git or a backup, and enter anew what only the copy has. Until then do not rely on what the line says.',
  },
  damage_lines_removed: {
    means: 'Lines that were written are no longer there.',
    remedy:
      'Copy the file aside first, then restore it from git or a backup, and enter anew what only the copy has.',
  },
  damage_line_repeated: {
    means: 'A line stands twice.',
    remedy:
      'Copy the file aside first, then restore it from git or a backup, and enter anew what only the copy has.',
  },
  damage_line_moved: {
    means: 'A line stands in another place than the one in which it was written.',
    remedy:
      'Copy the file aside first, then restore it from git or a backup, and enter anew what only the copy has.',
  },
  damage_fork: {
    means:
      'Two entries follow the same intact entry: two writers used one station, for example in two clones of a repository.',
    remedy:
      'Give each computer a HOLDFAST_STATION of its own. Keep the lines of one branch, and enter anew what only the other has.',
  },
  damage_foreign_line: {
    means: 'A line that holdfast did not write: not JSON, or not in the format of the record.',
    remedy:
      'Look at the line; conflict markers and hand-made lines belong out of the file. A newer holdfast may know it.',
  },
  damage_contradiction: {
    means:
      'A line is in the chain but contradicts itself or the line before: its number, its times or its station.',
    remedy:
      'Copy the file aside first, then restore it from git or a backup, enter anew what only the copy has, and find out what else writes to the record.',
  },
  damage_torn_tail: {
    means: 'The file ends in the middle of a line.',
    remedy: 'The next entry sets the piece aside in a file of its own, with its bytes kept.',
  },
  damage_cut_tail: {
    means: 'Lines are gone from the end: the head that was last seen is not there.',
    remedy:
      'Copy the file aside first, then restore it from git or a backup, and enter anew what only the copy has.',
  },
} as const satisfies Record<string, CodeRow>;
