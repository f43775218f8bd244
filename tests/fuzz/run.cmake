# Runs one fuzz target: TARGET, SEEDS (folders, apart by commas), FUZZER (ON: clang's; OFF: the driver's main),
# WORK (a folder of its own). A minute in the long form, else a few seconds.
set(seconds 3)
if(DEFINED ENV{PETALPROOF_LONG_TESTS})
  set(seconds 60)
endif()
string(REPLACE "," ";" SEEDS "${SEEDS}")
if(FUZZER)
  file(MAKE_DIRECTORY ${WORK})
  # Inputs found before stay in WORK and are tried again.
  set(command ${TARGET} -max_total_time=${seconds} -max_len=20000 -timeout=20 -rss_limit_mb=3000 -print_final_stats=1
              -artifact_prefix=${WORK}- ${WORK} ${SEEDS})
else()
  set(command ${TARGET} ${seconds} ${SEEDS})
endif()
execute_process(COMMAND ${command} RESULT_VARIABLE ended)
if(NOT ended EQUAL 0)
  message(FATAL_ERROR "ended with ${ended}")
endif()
