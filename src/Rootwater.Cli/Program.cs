using System.CommandLine;
using Rootwater.Cli;

var root = new RootCommand("Rootwater: what to mix, what the pens should read, and what the water at the root will be.")
{
    SolveCommand.Create(),
    CanCommand.Create(),
    PotCommand.Create(),
    LabelCommand.Create(),
    NameCommand.Create(),
    WaterCommand.Create(),
    CupboardCommand.Create(),
    LedgerCommand.Create(),
    BenchCommand.Create(),
    PlantCommand.Create(),
    RoundCommand.Create(),
    ReadingCommand.Create(),
    PenCommand.Create(),
    ExchangeCommand.Create(),
    BackupCommand.Create(),
    EvidenceCommand.Create(),
    CauseCommand.Create(),
    TrialCommand.Create(),
};

return await root.Parse(args).InvokeAsync();
