/* What the parser of YAML says, in the words of those who write section files. */
#ifndef USI_INPUT_PLAIN_YAML_H
#define USI_INPUT_PLAIN_YAML_H

/* A message of libyaml in plain words, or itself where there are none for it. */
const char *usi_plain_yaml(const char *said);

#endif
