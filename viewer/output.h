#pragma once
// Where a command's files go, and whether they may. Nobody's file is ever overwritten: a folder must be new,
// empty, or made by an earlier run for the same kind of files (folder_marker.h); a report is replaced only by
// a report of the same kind. Commands check all of this before the work; write_outputs.h checks it again
// while the files take their places, by system calls that leave no time in between.

#include "viewer/folder_marker.h"

#include <filesystem>
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
  std::string option;  // the option that asked for it, for messages: "--json"
  std::filesystem::path path;
  OutputKind kind = OutputKind::new_file;
  std::string signature = {};                 // a report's first bytes
  FolderHolds holds = FolderHolds::pictures;  // a folder's files
  std::vector<NamedFile> files = {};          // a folder's files; else a single file without a name
  // Of a new file that is a copy of another, or of part of it: nobody may read it who couldn't read that.
  std::filesystem::path copy_of = {};
};

// All three add an output unless the path is empty: then nobody asked for it.
void addNewFile(std::vector<Output>& outputs, std::string option, const std::string& path);
void addReport(std::vector<Output>& outputs, std::string option, const std::string& path,
               std::string_view signature);
void addFolder(std::vector<Output>& outputs, std::string option, const std::string& path, FolderHolds holds);

// Finds the output that an option asked for; null where the option wasn't given.
Output* outputOf(std::vector<Output>& outputs, std::string_view option);

// Says why the outputs can't be written, the file or folder first; nothing where they can. Changes no file.
std::optional<std::string> whyNotOutputs(std::span<const Output> outputs);

// Says why files of these names can't go into the folder: because of a file that petalproof didn't write, or
// that this run reads. Changes no file.
std::optional<std::string> whyNotNames(const Output& folder, std::span<const std::string> names,
                                       std::span<const std::filesystem::path> inputs = {});

}  // namespace petalproof
