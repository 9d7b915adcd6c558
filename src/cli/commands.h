#ifndef CLI_COMMANDS_H
#define CLI_COMMANDS_H

#include "cli/command.h"

/* One function a command, one file a function; commands.c is the table. */
int command_calls(struct cli *cli, int count, char **words);
int command_record(struct cli *cli, int count, char **words);
int command_figure(struct cli *cli, int count, char **words);
int command_history(struct cli *cli, int count, char **words);
int command_prices(struct cli *cli, int count, char **words);

#endif
