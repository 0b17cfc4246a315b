using PackCare.Cli;
using PackCare.Cli.Hosting;

return App.Run(args, Host.OfProcess());
