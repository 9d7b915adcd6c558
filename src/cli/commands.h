#ifndef CLI_COMMANDS_H
#define CLI_COMMANDS_H

#include "cli/command.h"

/* One function a command, one file a function; commands.c is the table. */
int command_calls(struct cli *cli, int count, char **words);
int command_show(struct cli *cli, int count, char **words);
int command_export(struct cli *cli, int count, char **words);
int command_record(struct cli *cli, int count, char **words);
int command_assess(struct cli *cli, int count, char **words);
int command_settings(struct cli *cli, int count, char **words);
int command_find_customers(struct cli *cli, int count, char **words);
int command_sync(struct cli *cli, int count, char **words);
int command_office(struct cli *cli, int count, char **words);
int command_merge(struct cli *cli, int count, char **words);
int command_backup(struct cli *cli, int count, char **words);
int command_verify(struct cli *cli, int count, char **words);
int command_figure(struct cli *cli, int count, char **words);
int command_history(struct cli *cli, int count, char **words);
int command_ledger(struct cli *cli, int count, char **words);
int command_prices(struct cli *cli, int count, char **words);

/* The workbook: what runs when no command is named. */
int command_workbook(struct cli *cli);

#endif
