# Writes the files of examples/ as C: cmake -DFROM=folder -DTO=file -P Embed.cmake
file(GLOB files "${FROM}/*.yaml")
list(SORT files)
set(bodies "")
set(entries "")
set(number 0)
foreach(file IN LISTS files)
  get_filename_component(name "${file}" NAME_WE)
  file(STRINGS "${file}" first LIMIT_COUNT 1)
  string(REPLACE "\\;" ";" first "${first}") # as file(STRINGS) puts it into its list
  string(REGEX REPLACE "^# *" "" summary "${first}")
  string(REGEX REPLACE "([\"\\\\])" "\\\\\\1" summary "${summary}")
  file(READ "${file}" hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  string(APPEND bodies "static const unsigned char text_${number}[] = {${bytes}};\n")
  string(APPEND entries
    "    {\"${name}\", \"${summary}\", text_${number}, sizeof text_${number}},\n")
  math(EXPR number "${number} + 1")
endforeach()
file(WRITE "${TO}" "#include \"examples.h\"\n\n${bodies}\nconst cli_example cli_examples[] = {\n"
  "${entries}    {0, 0, 0, 0},\n};\n")
