Console.WriteLine("starting");
