#pragma once
// Where a command's files go. Nobody's file is ever overwritten: a folder must be new, empty, or made by an
// earlier run for the same kind of files (see folder_marker.h); a report is replaced only by a report of the
// same kind. What can be known before the work is asked before it; all of it is asked again when the files
// take their places, by calls that can't be overtaken.

#include "engine/base/draft.h"
#include "viewer/folder_marker.h"

#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace petalproof {

struct NamedFile {
  std::string name;  // without folders
  std::string bytes;
};

enum class OutputKind { new_file, report, folder };

struct Output {
  std::string option;  // that asked for it, for messages: "--json"
  std::filesystem::path path;
  OutputKind kind = OutputKind::new_file;
  std::string signature = {};                 // a report's first bytes
  FolderHolds holds = FolderHolds::pictures;  // a folder's files
  std::vector<NamedFile> files = {};          // to be written; of a file one, without a name
  // Of a new file that is a copy of another, or of part of it: nobody may read it who couldn't read that.
  std::filesystem::path copy_of = {};
};

// Each adds nothing where the path is empty: nobody asked for it.
void addNewFile(std::vector<Output>& outputs, std::string option, const std::string& path);
void addReport(std::vector<Output>& outputs, std::string option, const std::string& path,
               std::string_view signature);
void addFolder(std::vector<Output>& outputs, std::string option, const std::string& path, FolderHolds holds);

// The output that this option asked for; null where nobody did.
Output* outputOf(std::vector<Output>& outputs, std::string_view option);

// Why these can't be written, in words, the file or folder first; nothing where they can. Changes nothing.
std::optional<std::string> whyNotOutputs(std::span<const Output> outputs);

// Why files of these names can't go into the folder: there is a file that petalproof didn't write, or a file
// that this run reads. Changes nothing.
std::optional<std::string> whyNotNames(const Output& folder, std::span<const std::string> names,
                                       std::span<const std::filesystem::path> inputs = {});

struct WriteOptions {
  FileCalls calls = systemCalls();
  // Asked between parts of the writing. Where it says no, the writing leaves everything as it was and throws
  // Stopped (base/stopping.h). A function, because a signal's handler can't ask by a token. May be empty.
  std::function<bool()> goes_on = {};
};

// Writes them all, or none: first to the disk under other names, then into their places. Says what went
// wrong, the file first; then everything is as it was, but for bytes that a device or a pipe has taken.
std::optional<std::string> writeOutputs(std::span<const Output> outputs, const WriteOptions& options = {});

}  // namespace petalproof
