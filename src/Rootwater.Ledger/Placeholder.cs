namespace Rootwater.Ledger;
